// @ts-check
/** The workbook's page: drawn again, soon and once, whenever something of it has changed and no hand presses on it. */

import { html, mount } from "./kit.js";
import { Page, PageAlone } from "./page.js";
import { BookState } from "./state.js";

/** @param {{ model: any, el: HTMLElement }} given */
function layBook({ model, el }) {
  let drawingSoon = false;
  let ended = false;
  let pressed = false; // if a button moves before the hand lets go of it, or is switched off, its press is lost
  const draw = () => {
    if (drawingSoon || pressed || ended) return;
    drawingSoon = true;
    queueMicrotask(() => {
      drawingSoon = false;
      if (!ended && !pressed) mount(html`<${book.alone ? PageAlone : Page} book=${book} />`, el);
    });
  };
  const hands = new AbortController();
  let lettingGo = 0;
  const letGo = () => {
    window.clearTimeout(lettingGo);
    if (!pressed) return;
    pressed = false;
    draw();
  };
  el.addEventListener("pointerdown", ({ target, button }) => {
    window.clearTimeout(lettingGo);
    if (button === 0 && target instanceof Element && target.closest("button")) pressed = true;
    else letGo();
  }, { capture: true, signal: hands.signal });
  window.addEventListener("click", letGo, { signal: hands.signal }); // what was pressed has heard of it by now
  for (const end of ["pointerup", "pointercancel", "dragend", "contextmenu"]) { // where no click follows
    window.addEventListener(end, () => {
      lettingGo = window.setTimeout(letGo);
    }, { capture: true, signal: hands.signal });
  }
  const book = new BookState(model, draw);
  draw();
  return () => {
    ended = true;
    hands.abort();
    mount(null, el);
    book.end();
  };
}

export default { render: layBook };
