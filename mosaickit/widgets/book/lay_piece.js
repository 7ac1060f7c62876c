// @ts-check
/** The whole piece in true proportion, with marks on what cannot be worked. */

import { SquaresPicture } from "./controls.js";
import { html } from "./kit.js";

/** The width over the height of a picture of squares.
 * @param {import("./state.js").Squares} squares */
export const proportionOf = (squares) => (squares.stitches * squares.aspect) / squares.rows;

/** Of more rows or stitches than this, squares are smaller than what a screen shows, and are blended. */
const FINEST = 250;

/** The border and the fringe, in heights of a row.
 * @param {{ finish: any, wide: number, high: number }} given */
function Finish({ finish, wide, high }) {
  const { colour, beside, above, hangs, strands } = finish;
  const rows = high - 2 * above;
  const rings = Array.from({ length: Math.max(beside, above) }, (_, at) => at);
  return html`<svg class="mk-lay-finish" aria-hidden="true" viewBox=${`0 0 ${wide} ${high}`}>
    ${rings.map((at) => html`<rect key=${at} x=${hangs + (beside && at)} y=${above && at}
      width=${wide - 2 * hangs - 2 * (beside && at)} height=${high - 2 * (above && at)} fill=${colour} />`)}
    ${[1, -1].map((way) => html`<g key=${way} transform=${way > 0 ? `translate(0 ${above})` : `translate(${wide} ${above}) scale(-1 1)`}>
      ${strands.map((/** @type {{ colour: string, d: string }} */ strand) => html`<path key=${strand.colour}
        d=${strand.d} stroke=${strand.colour} stroke-width=${Math.min(0.5, rows)} />`)}</g>`)}
  </svg>`;
}

/** @param {{ book: import("./state.js").BookState }} given */
export function LayPiece({ book }) {
  const { picture, repeats, marks, finish } = book.panel.piece;
  const { size, inches } = book.ledger;
  const proportion = proportionOf(picture);
  // as wide as there is room, as high as the sheet of style says, and no square larger than a finger
  const around = finish ?? { beside: 0, above: 0, hangs: 0 };
  // the finished piece in heights of a row
  const fabric = picture.stitches * picture.aspect;
  const wide = fabric + 2 * (around.beside + around.hangs), high = picture.rows + 2 * around.above;
  const most = Math.round((24 * picture.stitches * wide) / fabric);
  const width = `min(100%, calc(var(--mk-lay-high) * ${(wide / high).toFixed(5)}), ${most}px)`;
  const within = finish && {
    position: "absolute",
    left: `${(100 * (around.beside + around.hangs)) / wide}%`,
    top: `${(100 * around.above) / high}%`,
    width: `${(100 * fabric) / wide}%`,
  };
  const fine = picture.stitches > FINEST || picture.rows > FINEST;
  return html`<section class="mk-lay-piece" aria-label="The whole piece">
    <h3>The whole piece</h3>
    ${size && html`<p class="mk-figure">${size}</p>`}
    <p class="mk-hint">${[inches, repeats].filter(Boolean).join(" · ")}</p>
    ${marks && html`<p class="mk-hint mk-fault">Outlined in red: what cannot be worked.</p>`}
    <div class="mk-lay-finished" style=${{ width, minWidth: "4px", aspectRatio: finish && `${wide} / ${high}` }}>
      ${finish && html`<${Finish} finish=${finish} wide=${wide} high=${high} />`}
      <div class=${fine ? "mk-lay-sheet mk-lay-fine" : "mk-lay-sheet"} style=${within}>
        <${SquaresPicture} squares=${finish ? { ...picture, word: "" } : picture} />
        ${marks && html`<svg aria-hidden="true" viewBox=${`0 0 ${picture.stitches} ${picture.rows}`}
          preserveAspectRatio="none" style=${{ aspectRatio: String(proportion) }}>
          <path class="mk-lay-mark-light" d=${marks} /><path class="mk-lay-mark-dark" d=${marks} /></svg>`}
      </div>
    </div>
    ${finish && html`<p class="mk-hint">${picture.word}</p>`}
  </section>`;
}
