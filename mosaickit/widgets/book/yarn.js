// @ts-check
/** Yarn: the entries under their headings. */

import { Groups } from "./fields.js";
import { html } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function YarnPage({ book }) {
  return html`<${Groups} book=${book} groups=${book.panel.groups} />`;
}
