// @ts-check
/** Share: files of the design. */

import { html } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function SharePage({ book }) {
  return html`<p>${book.head.title}</p>`;
}
