// @ts-check
/** Look: the whole piece from either side, a part of it as yarn, and the loops of the square that was touched. */

import { Button, SquaresPicture } from "./controls.js";
import { html, useLayoutEffect, useRef } from "./kit.js";
import { YarnOfPart } from "./look_yarn.js";

/** @typedef {import("./state.js").BookState} BookState */

/** @type {Record<string, [number, number]>} */
const LOOK_ARROWS = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] };
const FAR_STEP = 10; // squares, with the shift key

/** A box laid over the picture of squares.
 * @param {{ at: { top: number, left: number, height?: number, width?: number }, face: any, kind: string }} given */
function Over({ at, face, kind }) {
  const { top, left, height = 1, width = 1 } = at;
  return html`<span class=${kind} aria-hidden="true" style=${{
    top: `${(100 * top) / face.rows}%`,
    left: `${(100 * left) / face.stitches}%`,
    height: `${(100 * height) / face.rows}%`,
    width: `${(100 * width) / face.stitches}%`,
  }}></span>`;
}

/** The whole piece, to be pressed.
 * @param {{ book: BookState }} given */
function WholePiece({ book }) {
  const { face, part, square } = book.panel;
  /** @param {number} top @param {number} left */
  const touch = (top, left) => {
    const at = { top: Math.min(Math.max(top, 0), face.rows - 1), left: Math.min(Math.max(left, 0), face.stitches - 1) };
    book.local.set("touched", at); // where the next arrow goes on from, before Python has answered
    book.do("touch", at).then(() => {
      if (book.local.get("touched") === at) book.local.delete("touched");
    });
  };
  /** @param {PointerEvent} event */
  const press = (event) => {
    const room = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    touch(
      Math.floor(((event.clientY - room.top) / room.height) * face.rows),
      Math.floor(((event.clientX - room.left) / room.width) * face.stitches),
    );
  };
  /** @param {KeyboardEvent} event */
  const key = (event) => {
    const step = LOOK_ARROWS[event.key];
    if (!step || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    const from = /** @type {any} */ (book.local.get("touched")) ?? square;
    const far = event.shiftKey ? FAR_STEP : 1;
    touch(from.top + far * step[0], from.left + far * step[1]);
  };
  const proportion = (face.stitches * face.aspect) / face.rows;
  return html`<div class="mk-look-whole" role="application" tabindex="0" onClick=${press} onKeyDown=${key}
    style=${{ width: `min(100%, ${70 * proportion}vh)` }}
    aria-label=${`${face.about}. ${square.place} is touched; arrow keys touch the next one, with Shift the tenth.`}>
    <${SquaresPicture} squares=${face} />
    ${!part.whole && html`<${Over} at=${part} face=${face} kind="mk-look-part" />`}
    <${Over} at=${square} face=${face} kind="mk-look-square" />
  </div>`;
}

/** @param {{ book: BookState }} given */
function PartByNumbers({ book }) {
  const { part, face } = book.panel;
  /** @type {["row" | "stitch" | "rows" | "stitches", string, number][]} */
  const boxes = [
    ["row", "From row", face.rows],
    ["stitch", "From stitch", face.stitches],
    ["rows", "Rows", part.most],
    ["stitches", "Stitches", part.most],
  ];
  return html`<fieldset class="mk-look-numbers"><legend>Part shown as yarn</legend>
    ${boxes.map(([name, label, most]) => {
      const draft = `part ${name}`;
      return html`<label class="mk-field" key=${name}>${label}
        <input type="number" inputmode="numeric" min="1" max=${most} value=${book.drafts.get(draft) ?? part[name]}
          onInput=${(/** @type {any} */ event) => book.drafts.set(draft, event.target.value)}
          onChange=${async (/** @type {any} */ event) => {
            const answer = await book.do("part", { [name]: event.target.value === "" ? null : Number(event.target.value) });
            if (!answer.error) book.drafts.delete(draft);
            book.draw();
          }} /></label>`;
    })}
  </fieldset>`;
}

/** The loops of the square that was touched, in words and from the side.
 * @param {{ book: BookState }} given */
function LoopsOfSquare({ book }) {
  const { said, drawn, picture, levels, inks, view_box, legend } = book.panel.square;
  const place = useRef(/** @type {HTMLElement | null} */ (null));
  useLayoutEffect(() => {
    if (!place.current) return;
    // a drawing, made by Python
    place.current.innerHTML = `<svg viewBox="${view_box}" aria-hidden="true">${picture}</svg>${legend}`;
    for (const name of place.current.querySelectorAll("text[data-level]"))
      name.textContent = levels[Number(name.getAttribute("data-level"))][0];
  });
  const yarns = Object.fromEntries(inks.map((/** @type {string} */ ink, /** @type {number} */ at) => [`--mk-yarn${at}`, ink]));
  return html`<section class="mk-look-loops">
    <h3>The square that was touched</h3>
    <p role="status">${said}</p>
    ${drawn && html`<p class="mk-fault">${drawn}</p>`}
    <div class="mk-look-side">
      <div class="mk-look-column" ref=${place} style=${yarns}></div>
      <dl aria-label="The column from the side, from the top down">
        ${levels.filter((/** @type {string[]} */ [, word]) => word).map((/** @type {string[]} */ [name, word]) =>
          html`<div key=${name}><dt>${name}</dt><dd>${word}</dd></div>`)}</dl>
    </div>
  </section>`;
}

/** @param {{ book: BookState }} given */
export function LookPage({ book }) {
  const { side, face, note, edge } = book.panel;
  return html`${note && html`<div class="mk-look-nearest" role="status">${note}</div>`}
    <div class="mk-look-sides">
      <section>
        <div class="mk-look-head"><h3>${face.word}</h3>
          <${Button} icon="turn" word="Turn over" press=${() => book.do("turn")}
            hint=${side === "front" ? "Look at the back" : "Look at the front"} /></div>
        <${WholePiece} book=${book} />
        <p class="mk-hint">${edge} Press a square, or use the arrow keys: its loops are shown below, and the part as yarn
          follows if the square lies outside it.</p>
      </section>
      <section>
        <h3>${face.word} as yarn</h3>
        <${YarnOfPart} book=${book} />
        <${PartByNumbers} book=${book} />
      </section>
    </div>
    <${LoopsOfSquare} book=${book} />`;
}
