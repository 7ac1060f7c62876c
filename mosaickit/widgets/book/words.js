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
    <${Editions} book=${book} />
    <${RowsInWords} book=${book} />`;
}
