// @ts-check
/**
 * A table whose lines can be sorted by any column and of which one can be chosen. What the lines say, and what they
 * are sorted by, comes from Python; which line is chosen goes back.
 */

/**
 * @typedef {{ key: number, cells: string[], by: (number | string | null)[] }} Line
 * @typedef {{ column: number, down: boolean } | null} Order
 */

/** The lines in another order: by a column, up or down, equal ones as they were, unknown ones last.
 * @param {Line[]} lines @param {Order} order
 * @returns {Line[]} */
export function sorted(lines, order) {
  if (!order) return lines;
  const { column, down } = order;
  return [...lines].sort((one, other) => {
    const [a, b] = [one.by[column], other.by[column]];
    if (a === b) return 0;
    if (a === null) return 1;
    if (b === null) return -1;
    const sign = typeof a === "string" ? a.localeCompare(String(b)) : a < /** @type {number} */ (b) ? -1 : 1;
    return down ? -sign : sign;
  });
}

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  // each table loads this module again, so that counting would give all of them the same name
  const name = `mk-chooser-${Math.random().toString(36).slice(2)}`;
  /** @type {Order} */
  let order = null;
  const frame = document.createElement("div");
  frame.className = "mk-chooser";
  frame.tabIndex = 0; // wide tables scroll by the arrow keys
  frame.setAttribute("role", "region");
  el.append(frame);
  /** @type {Record<string, string> | null} what there is to see of a line where there is no Python */
  const details = model.get("offline") ? model.get("offline").details ?? {} : null;
  const detail = document.createElement("div");
  if (details) el.append(detail);

  /** @param {string} kind @param {string} [text] */
  function made(kind, text) {
    const node = document.createElement(kind);
    if (text !== undefined) node.textContent = text;
    return node;
  }

  function draw() {
    /** @type {string[]} */
    const heads = model.get("heads");
    frame.setAttribute("aria-label", model.get("caption"));
    const table = made("table");
    table.append(made("caption", model.get("caption")));
    const head = made("tr");
    heads.forEach((text, column) => {
      const cell = made("th");
      cell.setAttribute("scope", "col");
      const here = order?.column === column ? order : null;
      cell.setAttribute("aria-sort", here ? (here.down ? "descending" : "ascending") : "none");
      const button = made("button", `${text}${here ? (here.down ? " ▼" : " ▲") : ""}`);
      button.dataset.column = String(column);
      button.addEventListener("click", () => {
        order = { column, down: here ? !here.down : false };
        draw();
        /** @type {HTMLElement | null} */ (frame.querySelector(`button[data-column="${column}"]`))?.focus();
      });
      cell.append(button);
      head.append(cell);
    });
    const top = made("thead");
    top.append(head);
    const body = made("tbody");
    for (const line of sorted(model.get("lines"), order)) body.append(row(line));
    table.append(top, body);
    frame.replaceChildren(table);
    follow();
  }

  /** @param {Line} line */
  function row(line) {
    const node = made("tr");
    node.dataset.key = String(line.key);
    const looked = !details || line.key in details; // whether it can be chosen
    line.cells.forEach((text, column) => {
      const cell = made(column === 0 ? "th" : "td");
      if (column === 0) cell.setAttribute("scope", "row");
      if (column === 0 && looked) {
        const label = made("label");
        const radio = document.createElement("input");
        radio.type = "radio";
        radio.name = name;
        radio.value = String(line.key);
        radio.addEventListener("change", () => choose(line.key));
        label.append(radio, ` ${text}`);
        cell.append(label);
      } else cell.textContent = text;
      node.append(cell);
    });
    if (looked) node.addEventListener("click", () => choose(line.key));
    node.classList.toggle("mk-looked", looked);
    return node;
  }

  /** @param {number} key */
  function choose(key) {
    if (model.get("chosen") === key) return;
    model.set("chosen", key);
    model.save_changes();
    follow();
  }

  function follow() {
    const chosen = String(model.get("chosen"));
    for (const node of frame.querySelectorAll("tbody tr")) {
      const here = /** @type {HTMLElement} */ (node).dataset.key === chosen;
      node.classList.toggle("mk-chosen", here);
      const radio = node.querySelector("input");
      if (radio) radio.checked = here;
    }
    if (details) detail.innerHTML = details[chosen] ?? ""; // pictures, made by Python
  }

  // plain keys would reach the notebook, where some of them delete cells
  frame.addEventListener("keydown", (event) => {
    if (!event.ctrlKey && !event.metaKey) event.stopPropagation();
  });
  model.on("change:lines", draw);
  model.on("change:heads", draw);
  model.on("change:chosen", follow);
  draw();
  return () => {
    model.off("change:lines", draw);
    model.off("change:heads", draw);
    model.off("change:chosen", follow);
  };
}

export default { render };
