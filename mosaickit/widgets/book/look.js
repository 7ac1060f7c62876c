// @ts-check
/** Look: both faces of the whole piece. */

import { SquaresPicture } from "./controls.js";
import { html } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function LookPage({ book }) {
  const { faces, note } = book.panel;
  return html`<p role="status">${note}</p>
    <div class="mk-faces">${faces.map((/** @type {any} */ each) => html`<${SquaresPicture} key=${each.word} squares=${each} />`)}</div>`;
}
