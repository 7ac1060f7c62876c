// @ts-check
/** Lay: the entries under their headings with the whole piece beside them, and a wanted size below. */

import { Button, Icon } from "./controls.js";
import { Groups } from "./fields.js";
import { html } from "./kit.js";
import { LayBands } from "./lay_bands.js";
import { LayPiece } from "./lay_piece.js";
import { LaySize } from "./lay_size.js";

/** What each named size comes to.
 * @param {{ book: import("./state.js").BookState }} given */
function LaySizes({ book }) {
  const id = `${book.link.view}-lay-sizes`;
  /** @typedef {{ name: string, measure: string, laid: string, yarn: string }} LaidSize */
  return html`<section class="mk-lay-sizes" aria-labelledby=${id}>
    <strong id=${id}>What each size measures</strong>
    <ul>${book.panel.sizes.map((/** @type {LaidSize} */ { name, measure, laid, yarn }) => html`<li key=${name}>
      <strong>${name}</strong>${measure && `: ${measure}`}
      <span class="mk-hint">${laid}</span>
      ${yarn && html`<span class="mk-hint">Yarn, likely: ${yarn}</span>`}
    </li>`)}</ul>
  </section>`;
}

/** @param {{ book: import("./state.js").BookState }} given */
export function LayPage({ book }) {
  const { groups, multiple, piece, ways, sizes } = book.panel;
  return html`<div class="mk-lay-top">
      <div class="mk-lay-entries">
        ${piece.wrong && html`<section class="mk-wrong">
          <strong><${Icon} name="wrong" />${piece.wrong}</strong>
          <p>${ways.length > 1 ? "Each of these makes it workable:" : ways.length ? "This makes it workable:" : piece.why}</p>
          <div class="mk-row">${ways.map((/** @type {{ key: string, word: string }} */ { key, word }) => html`
            <${Button} key=${key} icon=${key === "mend" ? "mend" : "done"} word=${word}
              press=${() => book.do("way", { key })} />`)}</div>
        </section>`}
        <${Groups} book=${book} groups=${groups} />
        <p class="mk-lay-multiple">${multiple}</p>
        ${sizes.length > 0 && html`<${LaySizes} book=${book} />`}
        <${LayBands} book=${book} />
      </div>
      <${LayPiece} book=${book} />
    </div>
    <${LaySize} book=${book} />`;
}
