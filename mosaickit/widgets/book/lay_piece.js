// @ts-check
/** The whole piece in true proportion, with marks on what cannot be worked. */

import { SquaresPicture } from "./controls.js";
import { html } from "./kit.js";

/** The width over the height of a picture of squares.
 * @param {import("./state.js").Squares} squares */
export const proportionOf = (squares) => (squares.stitches * squares.aspect) / squares.rows;

/** Of more rows or stitches than this, squares are smaller than what a screen shows, and are blended. */
const FINEST = 250;

/** @param {{ book: import("./state.js").BookState }} given */
export function LayPiece({ book }) {
  const { picture, repeats, marks } = book.panel.piece;
  const { size, inches } = book.ledger;
  const proportion = proportionOf(picture);
  // as wide as there is room, as high as the sheet of style says, and no square larger than a finger
  const width = `min(100%, calc(var(--mk-lay-high) * ${proportion.toFixed(5)}), ${24 * picture.stitches}px)`;
  const fine = picture.stitches > FINEST || picture.rows > FINEST;
  return html`<section class="mk-lay-piece" aria-label="The whole piece">
    <h3>The whole piece</h3>
    ${size && html`<p class="mk-figure">${size}</p>`}
    <p class="mk-hint">${[inches, repeats].filter(Boolean).join(" · ")}</p>
    ${marks && html`<p class="mk-hint mk-fault">Outlined in red: what cannot be worked.</p>`}
    <div class=${fine ? "mk-lay-sheet mk-lay-fine" : "mk-lay-sheet"} style=${{ width, minWidth: "4px" }}>
      <${SquaresPicture} squares=${picture} />
      ${marks && html`<svg aria-hidden="true" viewBox=${`0 0 ${picture.stitches} ${picture.rows}`}
        preserveAspectRatio="none" style=${{ aspectRatio: String(proportion) }}>
        <path class="mk-lay-mark-light" d=${marks} /><path class="mk-lay-mark-dark" d=${marks} /></svg>`}
    </div>
  </section>`;
}
