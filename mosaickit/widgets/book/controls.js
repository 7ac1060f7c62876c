// @ts-check
/** What all panels are made of: icons, buttons, pictures of squares. */

import { ICONS } from "./icons.js";
import { html, useLayoutEffect, useRef } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {import("./state.js").Squares} Squares
 */

/** An icon, which says nothing to those who do not see it: the word beside it does.
 * @param {{ name: string }} given */
export function Icon({ name }) {
  return html`<svg class="mk-icon" viewBox="0 0 24 24" aria-hidden="true"
    dangerouslySetInnerHTML=${{ __html: ICONS[name] }}></svg>`;
}

/** A button with an icon and a word; on a telephone some show the icon only, and the word is their name all the same.
 * @param {{ icon?: string, word: string, press: () => void, main?: boolean, chosen?: boolean, off?: boolean,
 *   hint?: string }} given */
export function Button({ icon, word, press, main = false, chosen, off = false, hint = "" }) {
  return html`<button type="button" class=${main ? "mk-main-action" : ""} aria-pressed=${chosen} disabled=${off}
    title=${hint || null} onClick=${press}>
    ${icon && html`<${Icon} name=${icon} />`}<span class="mk-word">${word}</span>
  </button>`;
}

/** Bytes as Python sent them, whatever the notebook wraps them in.
 * @param {any} sent @returns {Uint8Array} */
function bytesIn(sent) {
  return new Uint8Array(sent.buffer ?? sent, sent.byteOffset ?? 0, sent.byteLength);
}

/** A picture of squares, whole at any size, in the proportion of the gauge.
 * @param {{ squares: Squares }} given */
export function SquaresPicture({ squares }) {
  const place = useRef(/** @type {HTMLCanvasElement | null} */ (null));
  useLayoutEffect(() => {
    const pen = place.current?.getContext("2d");
    if (!pen) return;
    const shown = pen.createImageData(squares.stitches, squares.rows);
    const inks = squares.colours.map((colour) => [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16)));
    const pixels = new DataView(shown.data.buffer);
    const words = inks.map(([red, green, blue]) => ((red << 24) | (green << 16) | (blue << 8) | 255) >>> 0);
    bytesIn(squares.squares).forEach((number, at) => pixels.setUint32(4 * at, words[number]));
    pen.putImageData(shown, 0, 0);
  }, [squares.squares, squares.colours]);
  const proportion = (squares.stitches * squares.aspect) / squares.rows;
  return html`<figure class="mk-squares">
    <canvas ref=${place} width=${squares.stitches} height=${squares.rows} role="img" aria-label=${squares.about}
      style=${{ aspectRatio: `${proportion}`, width: `min(100%, calc(var(--mk-high) * ${proportion}))` }}></canvas>
    <figcaption>${squares.word}</figcaption>
  </figure>`;
}
