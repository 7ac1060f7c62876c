// @ts-check
/** A box of the yarn panel whose content is pressed as it is entered; what cannot be stays in it, with the sentence. */

import { html } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ book: BookState, id: string, label: string, kind?: "number" | "text" | "color", value: any, name: string,
 *   values: Record<string, any>, of: string, unit?: string, least?: number, plain?: boolean }} BoxGiven
 */

/** What was entered; null in an empty box, undefined while it is no number yet.
 * @param {HTMLInputElement} box */
export function enteredIn(box) {
  if (box.type !== "number") return box.value;
  if (box.validity.badInput) return undefined;
  return box.value === "" ? null : Number(box.value);
}

/** Press with what was entered under `of`; the draft stays until it is answered well.
 * @param {BookState} book @param {string} id @param {string} name @param {Record<string, any>} values @param {any} draft */
export async function pressEntered(book, id, name, values, draft) {
  book.drafts.set(id, draft);
  const answer = await book.send({ kind: "do", panel: "yarn", name, values });
  if (answer.error) {
    book.faults.set(id, answer.error);
  } else {
    book.faults.delete(id);
    if (book.drafts.get(id) === draft) book.drafts.delete(id);
    book.local.delete("error");
  }
  book.draw();
}

/** @param {BoxGiven} given */
export function PressedBox({ book, id, label, kind = "number", value, name, values, of, unit = "", least = 0, plain }) {
  const fault = book.faults.get(id);
  const whole = `${book.link.view}-${id}`;
  const shown = book.drafts.has(id) ? book.drafts.get(id) : value;
  const keep = (/** @type {any} */ event) => {
    const entered = enteredIn(event.target);
    if (entered !== undefined) book.drafts.set(id, entered); // another answer may come while it is typed
  };
  const press = (/** @type {any} */ event) => {
    const entered = enteredIn(event.target);
    if (entered === undefined) {
      book.faults.set(id, "This is not a number.");
      book.draw();
    } else pressEntered(book, id, name, { ...values, [of]: entered }, entered);
  };
  const about = fault ? `${whole}-said` : null;
  const limits = kind === "number" ? { min: least, step: "any", inputmode: "decimal" } : {};
  return html`<div class=${`mk-field mk-yarn-box mk-yarn-${kind}`}>
    <label for=${whole} class=${plain ? "" : "mk-yarn-silent"}>${label}</label>
    <span class="mk-entry"><input id=${whole} type=${kind} value=${shown ?? ""} ...${limits} aria-describedby=${about}
        aria-invalid=${fault ? "true" : null} onInput=${keep} onChange=${press} />
      ${unit && html`<span class="mk-unit">${unit}</span>`}</span>
    ${fault && html`<p id=${`${whole}-said`} class="mk-fault">${fault}</p>`}
  </div>`;
}
