// @ts-check
/** What the ways to begin share: what the hand has entered, questions to Python, fields, and walls of pictures. */

import { BeginLive } from "./begin_live.js";
import { Icon } from "./controls.js";
import { html, useLayoutEffect, useRef, useState } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ name: string, title: string, picture: string, lines: string[] }} BeginTile
 * @typedef {{ folder: string, tiles: BeginTile[], faults: string[], more: number, corners: string }} BeginFiles
 * @typedef {{ way: string, fault: string, refused: string, sending: string, key: string, image: File | null,
 *   gauge: Record<string, string>, sheet: Record<string, string>, size: { said?: string, error?: string },
 *   files: BeginFiles | null, most: number,
 *   original: { wide: number, high: number, pixels: string } | null,
 *   family: { of: string, tiles: BeginTile[] | null, gallery: string[] },
 *   picture: Record<string, any> | null, chance: Record<string, any> | null,
 *   live: Map<string, BeginLive> }} BeginHand
 */

/** What was entered and is not taken yet, for each workbook; it stays while another panel is open.
 * @type {WeakMap<BookState, BeginHand>} */
const BEGIN_HANDS = new WeakMap();

/** @param {BookState} book @returns {BeginHand} */
export function beginHand(book) {
  const known = BEGIN_HANDS.get(book);
  if (known) return known;
  const { rows, stitches } = book.panel;
  /** @type {BeginHand} */
  const hand = {
    way: "sheet", fault: "", refused: "", sending: "", key: "", image: null, gauge: { stitches: "", rows: "", unit: "cm" },
    sheet: { across: String(stitches), up: String(rows), measure: "squares" }, size: {}, files: null,
    most: 24, original: null, picture: null, chance: null, family: { of: "", tiles: null, gallery: [] }, live: new Map(),
  };
  BEGIN_HANDS.set(book, hand);
  return hand;
}

/** What was typed into a box; a text that is no number where it holds none, so that Python says so.
 * @param {HTMLInputElement} box */
export function beginTyped(box) {
  return box.validity.badInput ? "no number" : box.value;
}

/** What Python is told of texts that were typed: numbers, null where it is empty, and otherwise the text.
 * @param {Record<string, any>} typed @returns {Record<string, any>} */
export function beginNumbers(typed) {
  return Object.fromEntries(Object.entries(typed).map(([name, text]) => {
    if (text === "" || text === null) return [name, null];
    return [name, typeof text === "boolean" || Number.isNaN(Number(text)) ? text : Number(text)];
  }));
}

/** The gauge that was entered, for Python.
 * @param {BookState} book */
export function beginGauge(book) {
  return { gauge: beginNumbers(beginHand(book).gauge) };
}

/** Do what the hand asked for, beside what the page asks by itself.
 * @param {BookState} book @param {string} name @param {Record<string, any>} values @param {ArrayBuffer[]} [buffers] */
export function beginDo(book, name, values, buffers = []) {
  return book.send({ kind: "do", panel: "begin", name, values }, buffers);
}

/** Take something: the design goes on from it, or the reason why not is said.
 * @param {BookState} book @param {string} name @param {Record<string, any>} [values] */
export async function beginTake(book, name, values = {}) {
  const answer = await beginDo(book, name, { ...values, ...beginGauge(book) });
  beginTaken(book, answer);
}

/** @param {BookState} book @param {any} answer */
export function beginTaken(book, answer) {
  const hand = beginHand(book);
  book.local.delete("error");
  hand.fault = answer.error ?? "";
  if (!answer.error) BEGIN_HANDS.delete(book); // the next design begins with nothing entered
  book.draw();
}

/** The live question of a name, made when it is asked first.
 * @param {BookState} book @param {string} name @param {(answer: any) => void} hear */
export function beginLive(book, name, hear) {
  const { live } = beginHand(book);
  const known = live.get(name) ?? new BeginLive((values) => book.ask("begin", name, values), hear);
  live.set(name, known);
  return known;
}

let beginIds = 0;

/** A name of its own for a control, by which its label finds it. */
function useBeginId() {
  return useState(() => `mk-begin-${(beginIds += 1)}`)[0];
}

/** A number: a box, and a slider beside it where one helps.
 * @param {{ label: string, value: any, put: (text: string) => void, least?: number, most?: number, step?: number | "any",
 *   unit?: string, hint?: string, slide?: boolean, empty?: string }} given */
export function BeginNumber({ label, value, put, least, most, step = "any", unit = "", hint = "", slide = false, empty }) {
  const shown = value === "no number" ? "" : value ?? "";
  const input = (/** @type {any} */ event) => put(beginTyped(event.target));
  const id = useBeginId();
  return html`<div class="mk-field">
    <label for=${id}>${label}</label>
    <span class="mk-entry"><input id=${id} type="number" inputmode=${step === 1 ? "numeric" : "decimal"} min=${least} max=${most}
      step=${step} value=${shown} placeholder=${empty} onInput=${input} />
      ${unit && html`<span class="mk-unit">${unit}</span>`}
      ${slide && html`<input type="range" class="mk-begin-slide" aria-label=${`${label}, slider`} min=${least} max=${most}
        step=${step} value=${shown} onInput=${input} />`}</span>
    ${hint && html`<p class="mk-hint">${hint}</p>`}
  </div>`;
}

/** One of several.
 * @param {{ label: string, value: string, options: [string, string][], put: (value: string) => void, hint?: string }} given */
export function BeginChoice({ label, value, options, put, hint = "" }) {
  const id = useBeginId();
  return html`<div class="mk-field">
    <label for=${id}>${label}</label>
    <span class="mk-entry"><select id=${id} value=${value}
      onChange=${(/** @type {any} */ event) => put(event.target.value)}>
      ${options.map(([each, word]) => html`<option value=${each}>${word}</option>`)}</select></span>
    ${hint && html`<p class="mk-hint">${hint}</p>`}
  </div>`;
}

/** The gauge that the new design has.
 * @param {{ book: BookState, changed?: () => void, hint: string }} given */
export function BeginGauge({ book, changed = () => {}, hint }) {
  const { gauge } = beginHand(book);
  const put = (/** @type {string} */ name) => (/** @type {string} */ value) => {
    gauge[name] = value;
    changed();
    book.draw();
  };
  return html`<fieldset class="mk-begin-gauge"><legend>Gauge</legend>
    <div class="mk-row">
      <${BeginNumber} label="Stitches" value=${gauge.stitches} least=${0.1} put=${put("stitches")} />
      <${BeginNumber} label="Rows" value=${gauge.rows} least=${0.1} put=${put("rows")} />
      <${BeginChoice} label="over" value=${gauge.unit} options=${[["cm", "10 cm"], ["in", "4 in"]]} put=${put("unit")} />
    </div>
    <p class="mk-hint">${hint}</p>
  </fieldset>`;
}

/** Why something could not be done; where it may be out of sight, it is brought in sight.
 * @param {{ said: string, far?: boolean }} given */
export function BeginFault({ said, far = false }) {
  const place = useRef(/** @type {HTMLElement | null} */ (null));
  useLayoutEffect(() => {
    if (said && far) place.current?.scrollIntoView({ block: "nearest" });
  }, [said]);
  return said && html`<p class="mk-fault mk-begin-fault" role="alert" ref=${place}><${Icon} name="wrong" />${said}</p>`;
}

/** Designs side by side; one press takes one.
 * @param {{ tiles: BeginTile[], take: (tile: BeginTile) => void }} given */
export function BeginWall({ tiles, take }) {
  return html`<ul class="mk-begin-wall" role="list">${tiles.map((tile) => html`<li key=${tile.name}>
    <button type="button" onClick=${() => take(tile)}>
      <span class="mk-begin-thumb" aria-hidden="true">${tile.picture
        ? html`<span dangerouslySetInnerHTML=${{ __html: tile.picture }}></span>`
        : html`<${Icon} name="page" />`}</span>
      <strong>${tile.title}</strong>
      ${tile.name !== tile.title && html`<small>${tile.name}</small>`}
      ${tile.lines.map((line) => html`<small>${line}</small>`)}
    </button></li>`)}</ul>`;
}
