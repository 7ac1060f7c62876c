// The list holds everything; what is typed leaves the lines with all its words, nearest names first.
const box = /** @type {HTMLInputElement} */ (document.querySelector("#find"));
const list = /** @type {HTMLElement} */ (document.querySelector("#all"));
const count = /** @type {HTMLElement} */ (document.querySelector("#found"));
const lines = /** @type {HTMLElement[]} */ ([...list.children]).map((line) => {
  const name = (line.dataset.name ?? "").toLowerCase();
  return { line, name, last: name.split(".").at(-1) ?? "", text: (line.textContent ?? "").toLowerCase() };
});

/** @param {{name: string, last: string}} one @param {string} asked */
function distance({ name, last }, asked) {
  if (name === asked || name === `mk.${asked}`) return 0;
  if (last === asked) return 1;
  if (last.startsWith(asked)) return 2;
  return name.includes(asked) ? 3 : 4;
}

function show() {
  const asked = box.value.trim().toLowerCase();
  const words = asked.split(/\s+/).filter(Boolean);
  const found = lines.filter(({ text }) => words.every((word) => text.includes(word)));
  const order = asked ? [...found].sort((a, b) => distance(a, asked) - distance(b, asked)) : lines;
  list.replaceChildren(...order.map(({ line }) => line));
  count.textContent = `${order.length} of ${lines.length} entries`;
}

box.value = new URLSearchParams(location.search).get("q") ?? "";
box.addEventListener("input", show);
box.form?.addEventListener("submit", (event) => {
  event.preventDefault();
  list.querySelector("a")?.focus();
});
show();
box.focus();
