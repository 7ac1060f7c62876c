// @ts-check
/** Picture: the painter, in the page but not of it: it talks with Python by itself. */

import { html, useLayoutEffect, useRef } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function PicturePage({ book }) {
  const place = useRef(/** @type {HTMLElement | null} */ (null));
  useLayoutEffect(() => {
    place.current?.append(book.painter);
  }, []);
  return html`<div class="mk-picture" ref=${place}></div>`;
}
