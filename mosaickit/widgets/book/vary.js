// @ts-check
/** Vary: the wall of variants, what is pinned side by side, chance near the motif, and a search that can be stopped. */

import { Button, SquaresPicture } from "./controls.js";
import { numberIn } from "./fields.js";
import { html } from "./kit.js";

/** @typedef {import("./state.js").BookState} BookState */

/** A value of this page that is typed and not told yet.
 * @param {BookState} book @param {string} name @param {any} start @returns {[any, (value: any) => void]} */
function kept(book, name, start) {
  return [book.local.has(name) ? book.local.get(name) : start, (value) => {
    book.local.set(name, value);
    book.draw();
  }];
}

/** @param {{ book: BookState }} given */
function Sorting({ book }) {
  const { figures, sort } = book.panel;
  return html`<div class="mk-row">
    <label class="mk-field">Sorted by
      <select value=${sort ?? ""} onChange=${(/** @type {any} */ event) => book.do("sort", { by: event.target.value || null })}>
        <option value="">as they were made</option>
        ${figures.map((/** @type {any[]} */ [name, word]) => html`<option value=${name}>${word}</option>`)}
      </select></label>
    <details class="mk-vary-bounds"><summary>Only some of them</summary>
      ${figures.map((/** @type {any[]} */ [name, word, share, least, most]) => html`<fieldset class="mk-vary-bound" key=${name}>
        <legend>${word}${share ? ", in %" : ""}</legend>
        ${[["at least", least, "least"], ["at most", most, "most"]].map(([label, value, which]) => html`<label>${label}
          <input type="number" step="any" value=${value ?? ""} onChange=${(/** @type {any} */ event) => book.do("keep", {
            figure: name, least, most, [which]: numberIn(event.target),
          })} /></label>`)}
      </fieldset>`)}
    </details>
  </div>`;
}

/** @param {{ book: BookState, tile: any }} given */
function VariantTile({ book, tile }) {
  const { name, picture, figures, mended, pinned } = tile;
  const words = book.panel.figures.map((/** @type {any[]} */ [, word], /** @type {number} */ at) => `${word}: ${figures[at]}`);
  return html`<li class="mk-vary-tile">
    <${SquaresPicture} squares=${picture} />
    ${mended && html`<small>${mended}</small>`}
    <details><summary>Figures</summary>${words.map((/** @type {string} */ line) => html`<small key=${line}>${line}</small>`)}</details>
    <div class="mk-row">
      <${Button} icon="done" word="Take" hint=${`Take: ${name}`} press=${() => book.do("take", { name })} />
      <${Button} word=${pinned ? "Unpin" : "Pin"} chosen=${pinned} hint=${`${pinned ? "Unpin" : "Pin"}: ${name}`} press=${() => book.do("pin", { name })} />
    </div>
  </li>`;
}

/** @param {{ book: BookState }} given */
function Pinned({ book }) {
  const { pinned } = book.panel;
  if (!pinned.length) return null;
  return html`<section><h3>Side by side, as whole pieces</h3>
    <div class="mk-vary-pinned">${pinned.map((/** @type {any} */ { name, faces, lines, trouble }) => html`<div key=${name}>
      <strong>${name}</strong>
      ${trouble && html`<p class="mk-fault">${trouble}</p>`}
      <div class="mk-faces">${faces.map((/** @type {any} */ each) => html`<${SquaresPicture} key=${each.word} squares=${each} />`)}</div>
      ${lines.map((/** @type {string} */ line) => html`<p key=${line}>${line}</p>`)}
      <${Button} icon="done" word="Take" hint=${`Take: ${name}`} press=${() => book.do("take", { name })} /></div>`)}
    </div>
    ${pinned.length === 2 && html`<${Button} icon="family" word="Breed a child of the two" press=${() => book.do("breed")}
      hint="Each column comes from one or the other" />`}
  </section>`;
}

/** @param {{ book: BookState }} given */
function Near({ book }) {
  const [squares, setSquares] = kept(book, "near", 6);
  const [held, setHeld] = kept(book, "symmetry", []);
  return html`<section><h3>By chance, near the motif</h3>
    <div class="mk-row">
      <label class="mk-field">Squares that may differ
        <input type="number" min="1" max="999" value=${squares} onInput=${(/** @type {any} */ event) => setSquares(Number(event.target.value))} /></label>
      ${book.panel.symmetries.map((/** @type {string} */ name) => html`<label class="mk-vary-tick" key=${name}>
        <input type="checkbox" checked=${held.includes(name)} onChange=${(/** @type {any} */ event) => setHeld(
          event.target.checked ? [...held, name] : held.filter((/** @type {string} */ each) => each !== name),
        )} />${name}</label>`)}
      <${Button} icon="chance" word="Draw six" press=${() => book.do("near", { squares, symmetry: held, count: 6 })} />
    </div>
  </section>`;
}

/** @param {{ book: BookState }} given */
function Searching({ book }) {
  const { wishes, best } = book.panel;
  const [weights, setWeights] = kept(book, "weights", Object.fromEntries(wishes.map((/** @type {any[]} */ [name, , weight]) => [name, weight])));
  const [running, setRunning] = kept(book, "running", false);
  const [held] = kept(book, "symmetry", []);
  const search = async () => {
    setRunning(true);
    while (book.local.get("running")) {
      const answer = await book.do("search", { weights: book.local.get("weights") ?? weights, symmetry: held });
      if (answer.error || !book.link.connected) setRunning(false);
    }
  };
  return html`<section><h3>Search for what matters</h3>
    <div class="mk-vary-wishes">${wishes.map((/** @type {any[]} */ [name, word]) => html`<label class="mk-field" key=${name}>${word}
      <input type="range" min="0" max="1" step="0.1" value=${weights[name]}
        onInput=${(/** @type {any} */ event) => setWeights({ ...weights, [name]: Number(event.target.value) })} /></label>`)}</div>
    <div class="mk-row">
      ${running ? html`<${Button} icon="close" word="Stop" press=${() => setRunning(false)} />`
        : html`<${Button} icon="start" word=${best.length ? "Search on" : "Search"} press=${search} />`}
      ${best.length > 0 && !running && html`<${Button} icon="remove" word="Forget these" press=${() => book.do("forget")} />`}
    </div>
    <ul class="mk-vary-wall" role="list">${best.map((/** @type {any} */ { picture }, /** @type {number} */ at) => html`<li class="mk-vary-tile" key=${at}>
      <${SquaresPicture} squares=${picture} />
      <${Button} icon="done" word="Take" hint=${`Take: ${picture.word}`} press=${() => book.do("take", { best: at })} /></li>`)}</ul>
  </section>`;
}

/** @param {{ book: BookState }} given */
export function VaryPage({ book }) {
  const { hung, stale, number, tiles } = book.panel;
  const [steps, setSteps] = kept(book, "steps", 1);
  return html`<section><h3>The family of the motif</h3>
      <div class="mk-row">
        <label class="mk-field">Changes one after the other
          <select value=${String(steps)} onChange=${(/** @type {any} */ event) => setSteps(Number(event.target.value))}>
            <option value="1">one</option><option value="2">up to two</option></select></label>
        <${Button} icon="family" word=${hung ? "Hang it again" : "Hang the family"} main=${!hung} press=${() => book.do("hang", { steps })} />
      </div>
      ${stale && html`<p>The motif has changed since the wall was hung.</p>`}
      ${number > 0 && html`<${Sorting} book=${book} />`}
      ${number > tiles.length && html`<p role="status">Shown: ${tiles.length} of ${number}.</p>`}
      <ul class="mk-vary-wall" role="list">${tiles.map((/** @type {any} */ tile) => html`<${VariantTile} key=${tile.name} book=${book} tile=${tile} />`)}</ul>
    </section>
    <${Pinned} book=${book} /><${Near} book=${book} /><${Searching} book=${book} />`;
}
