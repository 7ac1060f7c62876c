// @ts-check
/** The lines of a run as a table: sorted by a column, one pressed becomes the design, all of them saved as a file. */

import { Button, SquaresPicture } from "./controls.js";
import { html } from "./kit.js";
import { LongWork } from "./long_work.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ line: number, cells: string[], why: string, over: string, picture: import("./state.js").Squares | null }} ManyLine
 */

/** The pictures of all lines have one scale; this is the room of the largest, in pixels. */
const LARGEST_OF_MANY = { wide: 80, high: 72 };

/** What to do with a file that is there already.
 * @param {{ book: BookState }} given */
function Asking({ book }) {
  const { said, free, taken } = book.panel.asking;
  return html`<div class="mk-wrong" role="alert"><p>${said}</p><div class="mk-row">
    <${Button} icon="save" word=${`Save as ${free}`} press=${() => book.do("saveAs", { how: "free" })} />
    <${Button} icon="wrong" word=${`Replace ${taken}`} press=${() => book.do("saveAs", { how: "replace" })} /></div></div>`;
}

/** @param {{ book: BookState }} given */
export function ManyTable({ book }) {
  const { said, notes, by, down, columns, lines, more } = book.panel.run;
  const pictures = lines.flatMap((/** @type {ManyLine} */ { picture }) => picture ?? []);
  const scale = Math.min(
    LARGEST_OF_MANY.wide / Math.max(...pictures.map((/** @type {any} */ { stitches, aspect }) => stitches * aspect), 1),
    LARGEST_OF_MANY.high / Math.max(...pictures.map((/** @type {any} */ { rows }) => rows), 1),
  );
  const sorted = (/** @type {string} */ key) => (key === by ? (down ? "descending" : "ascending") : null);
  return html`<section class="mk-many-run">
    <p role="status">${said}</p>
    ${notes.map((/** @type {string} */ note) => html`<p class="mk-fault">${note}</p>`)}
    ${book.panel.work && html`<${LongWork} book=${book} panel="many" work=${book.panel.work} />`}
    ${lines.length > 0 && !book.panel.work && html`<div class="mk-row">
      <${Button} icon="save" word="Save CSV" press=${() => book.do("save", { ending: ".csv" })} />
      <${Button} icon="save" word="Save XLSX" press=${() => book.do("save", { ending: ".xlsx" })} /></div>`}
    ${book.panel.asking && html`<${Asking} book=${book} />`}
    ${lines.length > 0 && html`<div class="mk-many-scroll" tabindex="0" role="region" aria-label="Lines">
      <table><thead><tr><th scope="col">Piece</th><th scope="col">Take</th>
        ${columns.map((/** @type {{ key: string, word: string }} */ { key, word }) => html`<th key=${key} scope="col"
          aria-sort=${sorted(key)}><button type="button" onClick=${() => book.do("sort", { by: key })}>${word}
          <span aria-hidden="true">${key === by ? (down ? "▼" : "▲") : ""}</span></button></th>`)}
        </tr></thead>
      <tbody>${lines.map((/** @type {ManyLine} */ { line, cells, why, over, picture }) => html`<tr key=${line}>
        <td>${picture && html`<div class="mk-many-small"
          style=${{ width: `${Math.max(picture.stitches * picture.aspect * scale, 2)}px` }}>
          <${SquaresPicture} squares=${picture} /></div>`}</td>
        <td>${why || over
          ? html`<details class="mk-advice"><summary>${why ? "cannot be worked" : "too many skeins"}</summary>
            <p>${why || over}</p></details>`
          : html`<${Button} icon="done" word=${`Take ${line}`} press=${() => book.do("take", { line })} />`}</td>
        ${cells.map((cell, at) => html`<td key=${columns[at].key}>${cell}</td>`)}
      </tr>`)}</tbody></table></div>`}
    ${more > 0 && html`<div class="mk-row"><${Button} icon="down" word=${`Show more (${more} left)`}
      press=${() => book.do("more")} /></div>`}
  </section>`;
}
