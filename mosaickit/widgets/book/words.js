// @ts-check
/** Words: the entries under their headings, the editions of the design, and its rows in words. */

import { Groups } from "./fields.js";
import { html } from "./kit.js";
import { Editions } from "./words_editions.js";
import { RowsInWords } from "./words_rows.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function WordsPage({ book }) {
  return html`
    <${Groups} book=${book} groups=${book.panel.groups} />
    <details class="mk-words-selling"><summary>For a pattern that is sold</summary>
      <${Groups} book=${book} groups=${book.panel.selling} />
    </details>
    <${Editions} book=${book} />
    <${RowsInWords} book=${book} />`;
}
