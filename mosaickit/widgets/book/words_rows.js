// @ts-check
/** The rows in words, some lines at a time, written when they are asked for. */

import { Button } from "./controls.js";
import { html, useRef } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ first: number, last: number, of: number, step: number, said: string, before: string[],
 *   key: [string, string][], lines: { label: string, text: string, changed: boolean }[] }} Lines
 */

/** @param {BookState} book @param {"rows" | "lines"} name @param {Record<string, any>} [values] */
async function askRows(book, name, values = {}) {
  book.local.set("words-writing", true);
  const answer = await book.do(name, values);
  book.local.delete("words-writing");
  if (!answer.error) book.local.set("words-rows", answer);
  book.draw();
}

/** @param {{ book: BookState }} given */
export function RowsInWords({ book }) {
  const top = useRef(/** @type {HTMLElement | null} */ (null));
  const { lacks, old } = book.panel;
  /** @type {Lines | undefined} */
  const rows = book.local.get("words-rows");
  const writing = book.local.has("words-writing");
  /** @param {number} first */
  const turn = async (first) => {
    await askRows(book, "lines", { first });
    top.current?.focus();
  };
  const word = writing ? "Writing…" : rows ? "Write them again" : "Write the rows";
  return html`<section class="mk-words-part">
    <h3>Rows in words</h3>
    ${lacks ? html`<p class="mk-words-lacks">${lacks}</p>` : html`<div class="mk-row">
      <${Button} icon="words" word=${word} off=${writing} press=${() => askRows(book, "rows")} />
      <span role="status">${rows && !old && rows.said}</span></div>`}
    ${rows && old && !writing && html`<p class="mk-words-lacks" role="status">The design has changed since these were written.</p>`}
    ${rows && html`
      <p class="mk-hint" tabindex="-1" ref=${top}>Lines ${rows.first} to ${rows.last} of ${rows.of}</p>
      ${rows.first === 1 && rows.before.map((text) => html`<p>${text}</p>`)}
      <ol class="mk-words-rows">${rows.lines.map(({ label, text, changed }) => html`<li key=${label}
        class=${changed ? "mk-words-changed" : ""}>
        <strong>${label}${changed && html` <em>changed</em>`}:</strong> ${text}</li>`)}</ol>
      ${rows.of > rows.step && html`<div class="mk-row">
        <${Button} word="Lines before" off=${writing || rows.first === 1} press=${() => turn(Math.max(1, rows.first - rows.step))} />
        <${Button} word="Next lines" off=${writing || rows.last === rows.of} press=${() => turn(rows.last + 1)} /></div>`}
      <details class="mk-words-key"><summary>Abbreviations and special stitches</summary>
        <dl>${rows.key.map(([short, meaning]) => html`<dt>${short}</dt><dd>${meaning}</dd>`)}</dl></details>`}
  </section>`;
}
