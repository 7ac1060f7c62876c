// @ts-check
/** Bands above and below the motif, in the order in which they lie: moved by mouse and by keys, a step each time. */

import { Button, Icon } from "./controls.js";
import { numberIn } from "./fields.js";
import { html } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ name: string, label: string, kind: string, options: [any, string][], value: any }} Asked
 * @typedef {{ at: number, word: string, rows: string, field: boolean, asked: Asked[] }} ShownBand
 */

/** @param {BookState} book @param {number} at */
const gripOf = (book, at) => `${book.link.view}-band-${at}`;

/** Move a band; the keyboard goes with it.
 * @param {BookState} book @param {number} at @param {number} to */
async function move(book, at, to) {
  const answer = await book.do("band_move", { at, to });
  if (!answer.error) document.getElementById(gripOf(book, to))?.focus();
}

/** One decision about a band.
 * @param {{ book: BookState, at: number, asked: Asked }} given */
function BandField({ book, at, asked: { name, label, kind, options, value } }) {
  const set = (/** @type {any} */ entered) => book.do("band_set", { at, name, value: entered });
  if (kind === "tick") {
    return html`<label><input type="checkbox" checked=${value}
      onChange=${(/** @type {any} */ event) => set(event.target.checked)} /> ${label}</label>`;
  }
  if (kind === "choice") {
    return html`<label>${label} <select value=${String(options.findIndex(([each]) => each === value))}
      onChange=${(/** @type {any} */ event) => set(options[Number(event.target.value)][0])}>
      ${options.map(([, word], number) => html`<option value=${String(number)}>${word}</option>`)}
    </select></label>`;
  }
  return html`<label>${label} <input type="number" min="1" step="1" inputmode="numeric" value=${value}
    onChange=${(/** @type {any} */ event) => set(numberIn(event.target))} /></label>`;
}

/** @param {{ book: BookState, band: ShownBand, last: number }} given */
function BandLine({ book, band: { at, word, rows, field, asked }, last }) {
  const over = book.local.get("band over") === at;
  const drop = (/** @type {any} */ event) => {
    event.preventDefault();
    const from = book.local.get("band held");
    book.local.delete("band held");
    book.local.delete("band over");
    if (from !== undefined && from !== at) move(book, from, at);
    else book.draw();
  };
  const hold = (/** @type {any} */ event) => {
    book.local.set("band held", at);
    event.dataTransfer.effectAllowed = "move";
    event.dataTransfer.setData("text/plain", word);
  };
  const overIt = (/** @type {any} */ event) => {
    if (book.local.get("band held") === undefined) return;
    event.preventDefault();
    if (book.local.get("band over") !== at) {
      book.local.set("band over", at);
      book.draw();
    }
  };
  const keys = (/** @type {KeyboardEvent} */ event) => {
    const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!by || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation(); // the notebook would move to another cell
    const to = at + by;
    if (to >= 0 && to <= last) move(book, at, to);
  };
  return html`<li class=${`mk-lay-band${over ? " mk-lay-over" : ""}`} draggable="true" onDragStart=${hold}
      onDragOver=${overIt} onDrop=${drop} onDragEnd=${() => {
        book.local.delete("band held");
        book.local.delete("band over");
        book.draw();
      }}>
    <button type="button" id=${gripOf(book, at)} class="mk-lay-band-grip" onKeyDown=${keys}
      aria-label=${`Move ${word}, ${rows}: arrow up or down`} title="Drag, or press arrow up or down"><${Icon} name="move" /></button>
    <span class="mk-lay-band-about"><strong>${word}</strong> <span class="mk-hint">${rows}</span></span>
    ${field ? html`<span></span>` : html`<button type="button" aria-label=${`Take away ${word}, ${rows}`} title="Take away"
      onClick=${() => book.do("band_drop", { at })}><${Icon} name="remove" /></button>`}
    ${asked.length > 0 && html`<span class="mk-lay-band-asked">
      ${asked.map((one) => html`<${BandField} key=${one.name} book=${book} at=${at} asked=${one} />`)}</span>`}
  </li>`;
}

/** What a band may be made of, asked for when it is first looked at.
 * @param {{ book: BookState }} given */
function AddBand({ book }) {
  const id = `${book.link.view}-band-of`;
  const known = book.local.get("band offer");
  const ask = async () => {
    if (book.local.has("band offer")) return;
    book.local.set("band offer", null);
    const answer = await book.ask("lay", "band_offer");
    if (answer.error) {
      book.local.delete("band offer");
      book.local.set("error", answer.error);
    } else {
      book.local.set("band offer", answer);
    }
    book.draw();
  };
  const groups = /** @type {const} */ ([["family", "Like this motif"], ["folder", "In the folder"], ["gallery", "In the gallery"]]);
  return html`<div class="mk-row">
    <div class="mk-field"><label for=${id}>Add a motif</label>
      <select id=${id} value="" onFocus=${ask} onPointerDown=${ask} onChange=${(/** @type {any} */ event) => {
        const [of, ...rest] = event.target.value.split(":");
        event.target.value = "";
        if (rest.length) book.do("band_add", { kind: "motif", of, name: rest.join(":") });
      }}>
        <option value="">${known === null ? "looking…" : "choose…"}</option>
        ${known && groups.filter(([of]) => known[of].length).map(([of, word]) => html`<optgroup label=${word}>
          ${known[of].map((/** @type {string} */ name) => html`<option value=${`${of}:${name}`}>${name}</option>`)}
        </optgroup>`)}
      </select>
    </div>
    <${Button} icon="layers" word="Add plain rows" press=${() => book.do("band_add", { kind: "plain" })} />
    <${Button} icon="line" word="Add a line" press=${() => book.do("band_add", { kind: "divider" })} />
  </div>`;
}

/** @param {{ book: BookState }} given */
export function LayBands({ book }) {
  const { on, order, said, step, steps, mirrors } = book.panel.bands;
  const id = `${book.link.view}-band-step`;
  if (!on) {
    return html`<section class="mk-lay-bands" aria-label="Bands">
      <h3 class="mk-lay-heading">Bands</h3>
      <p class="mk-hint">Other motifs, plain rows and lines of one colour, above and below this motif.</p>
      <div class="mk-row"><${Button} icon="layers" word="Lay in bands" press=${() => book.do("bands")} /></div>
    </section>`;
  }
  return html`<section class="mk-lay-bands" aria-label="Bands">
    <h3 class="mk-lay-heading">Bands</h3>
    <p class="mk-hint">As they lie: the lowest is at the foundation. Drag one, or press arrow up or down at its handle.</p>
    <ol class="mk-lay-order" reversed>
      ${order.map((/** @type {ShownBand} */ band) => html`<${BandLine} key=${band.at} book=${book} band=${band}
        last=${order.length - 1} />`)}
    </ol>
    <div role="status">${said.length > 0 && html`<ul class="mk-lay-said">
      ${said.map((/** @type {string} */ sentence) => html`<li key=${sentence}>${sentence}</li>`)}</ul>`}</div>
    <${AddBand} book=${book} />
    <div class="mk-row">
      <div class="mk-field"><label for=${id}>Where row colours get out of step</label>
        <select id=${id} value=${step} onChange=${(/** @type {any} */ event) => book.do("band_step", { step: event.target.value })}>
          ${steps.map((/** @type {[string, string]} */ [value, word]) => html`<option value=${value}>${word}</option>`)}
        </select>
      </div>
      <${Button} icon="mirror" word="Same end above" off=${!mirrors} press=${() => book.do("band_mirror")} />
      <${Button} icon="remove" word="No bands" press=${() => book.do("no_bands")} />
    </div>
  </section>`;
}
