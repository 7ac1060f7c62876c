// @ts-check
/** The workbook's page: drawn again, soon and once, whenever something of it has changed. */

import { html, mount } from "./kit.js";
import { Page, PageAlone } from "./page.js";
import { BookState } from "./state.js";

/** @param {{ model: any, el: HTMLElement }} given */
function layBook({ model, el }) {
  let drawingSoon = false;
  let ended = false;
  const draw = () => {
    if (drawingSoon || ended) return;
    drawingSoon = true;
    queueMicrotask(() => {
      drawingSoon = false;
      if (!ended) mount(html`<${book.alone ? PageAlone : Page} book=${book} />`, el);
    });
  };
  const book = new BookState(model, draw);
  draw();
  return () => {
    ended = true;
    mount(null, el);
    book.end();
  };
}

export default { render: layBook };
