// @ts-check
/** Begin: a new sheet. */

import { Button } from "./controls.js";
import { html } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function BeginPage({ book }) {
  const { rows, stitches, most } = book.panel;
  const size = book.local.get("sheet") ?? { rows, stitches };
  /** @param {"rows" | "stitches"} side @param {string} word */
  const side = (side, word) => html`<label class="mk-field">${word}
    <input type="number" inputmode="numeric" min="1" max=${most} value=${size[side]}
      onInput=${(/** @type {any} */ event) => {
        book.local.set("sheet", { ...size, [side]: Number(event.target.value) });
        book.draw();
      }} /></label>`;
  return html`<section>
    <h3>A new sheet</h3>
    <div class="mk-row">${side("stitches", "Stitches")} ${side("rows", "Rows")}
      <${Button} icon="begin" word="Begin a new sheet" main press=${() => book.do("sheet", size)} /></div>
  </section>`;
}
