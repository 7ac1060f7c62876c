// The form of a tester's report: it keeps what is typed on this device, checks it by the limits that Python wrote into
// the page, and saves it as the JSON file that `mk.testing.load_reports` reads.

/** @typedef {{least: number, most: number, whole?: boolean, unit?: string}} Limits */

/** @param {string} id @returns {any} */
const find = (id) => document.getElementById(id);
const data = JSON.parse(find("form-data").textContent);
const CM_PER_INCH = 2.54;

// ---- notes of what puzzled -----------------------------------------------------------------------------------

let lastSnag = 0;

/** Add a note; gives the number by which its parts are named. */
const addSnag = () => {
  lastSnag += 1;
  const number = lastSnag;
  const item = find("snag").content.cloneNode(true).firstElementChild;
  for (const part of item.querySelectorAll("[data-part]")) {
    part.id = `snag${number}-${part.dataset.part}`;
  }
  for (const label of item.querySelectorAll("[data-for]")) {
    label.htmlFor = `snag${number}-${label.dataset.for}`;
  }
  item.dataset.number = String(number);
  item.setAttribute("aria-label", `Note ${number}`);
  item.querySelector("button").setAttribute("aria-label", `Remove note ${number}`);
  item.querySelector("button").addEventListener("click", () => {
    item.remove();
    find("add").disabled = false;
    keep();
    find("add").focus();
  });
  find("snags").append(item);
  find("add").disabled = find("snags").children.length >= data.limits.snags.most;
  return number;
};

/** @returns {number[]} */
const snagNumbers = () => [...find("snags").children].map((item) => Number(item.dataset.number));

// ---- what is kept on this device -----------------------------------------------------------------------------

const place = `mosaickit-report-${data.key}`;

/** @returns {any[]} */
const controls = () => [...find("report").querySelectorAll("input, select, textarea")];

// a browser may refuse to keep anything for a file: then the page forgets, and works
const keep = () => {
  const fields = Object.fromEntries(controls().map((control) => [control.id, control.value]));
  try {
    localStorage.setItem(place, JSON.stringify({ fields, snags: snagNumbers() }));
  } catch {
    // nothing is kept
  }
};

const recall = () => {
  let kept = { fields: {}, snags: [] };
  try {
    kept = JSON.parse(localStorage.getItem(place) || "null") || kept;
  } catch {
    // nothing was kept
  }
  for (const number of kept.snags) {
    lastSnag = number - 1;
    addSnag();
  }
  for (const [id, value] of Object.entries(kept.fields)) {
    if (find(id)) {
      find(id).value = value;
    }
  }
};

// ---- what is typed, checked ----------------------------------------------------------------------------------

/** @type {{id: string, said: string}[]} */
let wrongs = [];
/** @param {string} id @param {string} said */
const refuse = (id, said) => {
  wrongs.push({ id, said });
  return null;
};

/**
 * Give the text of a field with what cannot be in a report refused.
 * @param {string} id @param {number} most
 */
const text = (id, most) => {
  const told = find(id).value.replace(/\r\n?/g, "\n").replace(/\t/g, " ").trim();
  const length = [...told].length;
  if (length > most) {
    return refuse(id, `At most ${most} characters fit; these are ${length}.`) ?? "";
  }
  if (/[\p{Cc}\p{Cs}\p{Co}\p{Cn}]/u.test(told.replaceAll("\n", ""))) {
    return refuse(id, "A character in it cannot be printed. Type the text again.") ?? "";
  }
  return told;
};

/**
 * Give the number of a field, or null if the field is empty or wrong.
 * @param {string} id @param {Limits} limits @param {number} times
 */
const number = (id, limits, times = 1) => {
  const typed = find(id).value.trim().replace(",", ".");
  if (typed === "") {
    return null;
  }
  const span = `from ${limits.least} to ${limits.most}${limits.unit ? ` ${limits.unit}` : ""}`;
  const what = limits.whole ? "whole number" : "number";
  if (!(limits.whole ? /^\d{1,9}$/ : /^(\d{1,9}(\.\d*)?|\.\d+)$/).test(typed)) {
    return refuse(id, `Type a ${what} ${span}.`);
  }
  const value = times === 1 ? Number(typed) : Number((Number(typed) * times).toFixed(3));
  return value < limits.least || value > limits.most ? refuse(id, `Type a ${what} ${span}.`) : value;
};

/**
 * Give two numbers that go together, or null if both fields are empty.
 * @param {string} one @param {string} two @param {Limits} limits @param {number} times
 */
const pair = (one, two, limits, times = 1) => {
  const found = [number(one, limits, times), number(two, limits, times)];
  for (const [id, other] of [[one, two], [two, one]]) {
    if (find(id).value.trim() === "" && find(other).value.trim() !== "") {
      refuse(id, "Fill in both, or neither.");
    }
  }
  return found[0] === null || found[1] === null ? null : found;
};

/** @param {string} name @param {number} index */
const yarn = (name, index) => {
  const id = `yarn${index}`;
  const amount = number(`${id}-amount`, data.limits.used);
  const ball = pair(`${id}-ball-metres`, `${id}-ball-grams`, data.limits.ball);
  if (amount === null) {
    return [];
  }
  const weighed = find(`${id}-unit`).value === "grams";
  if (weighed && ball === null && !wrongs.some((wrong) => wrong.id.startsWith(`${id}-ball`))) {
    refuse(`${id}-ball-metres`, "Say what one ball holds, so that grams become metres.");
  }
  return [{
    yarn: name,
    metres: weighed ? null : amount,
    grams: weighed ? amount : null,
    ball: weighed && ball ? { metres: ball[0], grams: ball[1] } : null,
  }];
};

/** @param {number} note */
const snag = (note) => {
  const id = `snag${note}`;
  const said = text(`${id}-text`, data.limits.snag);
  const row = number(`${id}-row`, data.limits.row);
  const stitch = number(`${id}-stitch`, data.limits.stitch);
  const empty = ["row", "stitch", "text"].every((part) => find(`${id}-${part}`).value.trim() === "");
  if (empty) {
    return [];
  }
  if (find(`${id}-text`).value.trim() === "") {
    refuse(`${id}-text`, "Say what puzzled you, or remove this note.");
  }
  if (stitch !== null && find(`${id}-row`).value.trim() === "") {
    refuse(`${id}-row`, "Give the row of this stitch too.");
  }
  return [{ text: said, row, stitch, kind: find(`${id}-kind`).value }];
};

const gauge = () => {
  const counts = pair("gauge-stitches", "gauge-rows", data.limits.gauge);
  const unit = find("gauge-over").value;
  return counts && {
    stitches: counts[0],
    rows: counts[1],
    over: [unit === "cm" ? 10 : 4],
    unit,
    blocked: find("gauge-blocked").value === "yes",
  };
};

/** Give the report as it is saved; what is wrong is in `wrongs`. */
const report = () => {
  wrongs = [];
  const times = find("unit").value === "in" ? CM_PER_INCH : 1;
  const tester = text("tester", data.limits.label);
  if (find("tester").value.trim() === "") {
    refuse("tester", "Give a letter or a made-up name.");
  }
  return {
    ...data.report,
    tester,
    hook_mm: number("hook", data.limits.hook),
    hours: number("hours", data.limits.hours),
    snags: snagNumbers().flatMap(snag),
    yarns: data.yarns.flatMap(yarn),
    before_cm: pair("before-width", "before-length", data.limits.length, times),
    after_cm: pair("after-width", "after-length", data.limits.length, times),
    gauge: gauge(),
    remarks: text("remarks", data.limits.remarks),
  };
};

// ---- what is said, and the file ------------------------------------------------------------------------------

/** @param {string} id */
const labelOf = (id) => {
  const group = find(id).closest("fieldset")?.querySelector("legend")?.textContent.trim()
    || find(id).closest("li")?.getAttribute("aria-label");
  const label = document.querySelector(`label[for="${id}"]`)?.firstChild?.textContent?.trim() || id;
  return group ? `${group}, ${label}` : label;
};

const forgetWrongs = () => {
  for (const note of document.querySelectorAll(".wrong")) {
    note.remove();
  }
  for (const control of controls()) {
    control.removeAttribute("aria-invalid");
    control.removeAttribute("aria-describedby");
    if (find(`${control.id}-hint`)) {
      control.setAttribute("aria-describedby", `${control.id}-hint`);
    }
  }
};

/** Say at each field what is wrong with it, and list it all above the button. */
const showWrongs = () => {
  forgetWrongs();
  const list = document.createElement("ul");
  for (const { id, said } of wrongs) {
    const control = find(id);
    const note = document.createElement("p");
    note.className = "wrong";
    note.id = `${id}-wrong`;
    note.textContent = said;
    control.after(note);
    control.setAttribute("aria-invalid", "true");
    control.setAttribute("aria-describedby", [control.getAttribute("aria-describedby"), note.id].filter(Boolean).join(" "));
    const link = document.createElement("a");
    link.href = `#${id}`;
    link.textContent = `${labelOf(id)}: ${said}`;
    link.addEventListener("click", (event) => {
      event.preventDefault();
      control.focus();
    });
    const item = document.createElement("li");
    item.append(link);
    list.append(item);
  }
  const count = wrongs.length === 1 ? "One answer needs" : `${wrongs.length} answers need`;
  const head = document.createElement("p");
  head.textContent = `Nothing is saved yet. ${count} another look:`;
  find("wrongs").replaceChildren(head, list);
  find("wrongs").hidden = wrongs.length === 0;
};

/** @param {string} name */
const plain = (name) => name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").slice(0, 40);

find("report").addEventListener("submit", (/** @type {Event} */ event) => {
  event.preventDefault();
  const made = report();
  showWrongs();
  if (wrongs.length > 0) {
    find("saved").textContent = "";
    find("wrongs").focus();
    return;
  }
  const link = document.createElement("a");
  const file = `${[made.design, `edition ${made.edition}`, made.size, made.tester].map(plain).filter(Boolean).join("-")}.json`;
  link.href = URL.createObjectURL(new Blob([`${JSON.stringify(made, null, 2)}\n`], { type: "application/json" }));
  link.download = file;
  link.click();
  find("saved").textContent = `Saved as ${file}. Send this file to the designer.`;
});

find("add").addEventListener("click", () => {
  const added = addSnag();
  keep();
  find(`snag${added}-row`).focus();
});
find("report").addEventListener("input", () => {
  find("saved").textContent = "";
  keep();
});

for (const [index, ball] of data.balls.entries()) {
  if (ball) {
    find(`yarn${index}-ball-metres`).value = ball[0];
    find(`yarn${index}-ball-grams`).value = ball[1];
  }
}
recall();
if (snagNumbers().length === 0) {
  addSnag();
}
