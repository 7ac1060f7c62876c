// @ts-check
/** Lay: the entries under their headings. */

import { Groups } from "./fields.js";
import { html } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function LayPage({ book }) {
  return html`<${Groups} book=${book} groups=${book.panel.groups} />`;
}
