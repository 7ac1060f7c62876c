// @ts-check
/** Controls for the decisions of a design, as Python asks for them; what cannot be is said beside its control. */

import { html, useLayoutEffect, useRef } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ name: string, label: string, kind: string, options: [any, string][], least: number | null,
 *   most: number | null, unit: string, hint: string, empty: boolean, value: any }} Entry
 */

/** What was entered into a box for a number; null where it is empty, and the text where it is no number.
 * @param {HTMLInputElement} box */
export function numberIn(box) {
  if (box.validity.badInput) return "no number";
  return box.value === "" ? null : Number(box.value);
}

/** Keep what is typed and not entered yet, so that it stays if the page is drawn again meanwhile.
 * @param {BookState} book @param {string} name */
const keeping = (book, name) => (/** @type {any} */ event) => {
  if (!event.target.validity.badInput) book.drafts.set(name, event.target.value);
};

/** @param {{ book: BookState, entry: Entry, id: string, value: any }} given */
function Box({ book, entry, id, value }) {
  const { name, kind, options } = entry;
  const number = useRef(/** @type {HTMLInputElement | null} */ (null));
  useLayoutEffect(() => {
    // a number that comes while the box is in hand is selected, so that what is typed takes its place
    if (number.current && number.current === document.activeElement && !book.drafts.has(name)) number.current.select();
  }, [value]);
  const said = `${id}-said`;
  const faulty = book.faults.has(name);
  const about = { id, "aria-describedby": faulty || entry.hint ? said : null, "aria-invalid": faulty || null };
  if (kind === "choice") {
    return html`<select ...${about} value=${String(options.findIndex(([each]) => each === value))}
      onChange=${(/** @type {any} */ event) => book.enter(name, options[Number(event.target.value)][0])}>
      ${options.map(([, word], at) => html`<option value=${String(at)}>${word}</option>`)}
    </select>`;
  }
  if (kind === "tick") {
    return html`<input type="checkbox" ...${about} checked=${value}
      onChange=${(/** @type {any} */ event) => book.enter(name, event.target.checked)} />`;
  }
  if (kind === "text") {
    return html`<textarea rows="5" ...${about} value=${value ?? ""} onInput=${keeping(book, name)}
      onChange=${(/** @type {any} */ event) => book.enter(name, event.target.value)}></textarea>`;
  }
  if (kind === "line") {
    return html`<input type="text" ...${about} value=${value ?? ""} onInput=${keeping(book, name)}
      onChange=${(/** @type {any} */ event) => book.enter(name, event.target.value)} />`;
  }
  return html`<input type="number" ref=${number} ...${about} inputmode=${kind === "count" ? "numeric" : "decimal"}
    min=${entry.least} max=${entry.most} step=${kind === "count" ? 1 : "any"} value=${value ?? ""} onInput=${keeping(book, name)}
    onChange=${(/** @type {any} */ event) => book.enter(name, numberIn(event.target))} />`;
}

/** One decision: its name, its control, and what there is to say of it.
 * @param {{ book: BookState, entry: Entry }} given */
export function Field({ book, entry }) {
  const id = `${book.link.view}-${entry.name}`;
  const fault = book.faults.get(entry.name);
  const value = book.drafts.has(entry.name) ? book.drafts.get(entry.name) : entry.value;
  return html`<div class=${`mk-field mk-${entry.kind}`}>
    <label for=${id}>${entry.label}</label>
    <span class="mk-entry"><${Box} book=${book} entry=${entry} id=${id} value=${value} />
      ${entry.unit && html`<span class="mk-unit">${entry.unit}</span>`}</span>
    ${(fault || entry.hint) && html`<p id=${`${id}-said`} class=${fault ? "mk-fault" : "mk-hint"}>${fault || entry.hint}</p>`}
  </div>`;
}

/** Decisions under their headings.
 * @param {{ book: BookState, groups: { word: string, entries: Entry[] }[] }} given */
export function Groups({ book, groups }) {
  return html`${groups.map(({ word, entries }) => html`<fieldset class="mk-group-of-fields">
    <legend>${word}</legend>
    ${entries.map((entry) => html`<${Field} key=${entry.name} book=${book} entry=${entry} />`)}
  </fieldset>`)}`;
}
