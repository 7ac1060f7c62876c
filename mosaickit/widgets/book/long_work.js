// @ts-check
/** Work that Python does a part at a time: the page asks for one part after the other, shows how far it is, and stops it. */

import { Button } from "./controls.js";
import { html, useEffect } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ said: string, done: number | null, of: number, what?: string }} Work what is under way; done is null
 *   where no one can tell
 */

/** The panels for which parts are asked already, by workbook: a panel that is opened again does not ask twice. */
const ASKED = new WeakMap();

/** Ask for part after part until none is left, also while another panel is open.
 * @param {BookState} book @param {string} panel @param {(answer: any) => void} ends is told the last answer */
async function askForParts(book, panel, ends) {
  const asked = ASKED.get(book) ?? new Set();
  ASKED.set(book, asked);
  if (asked.has(panel)) return;
  asked.add(panel);
  let answer = { left: true };
  while (answer.left) answer = await book.send({ kind: "part", panel });
  asked.delete(panel);
  ends(answer);
  book.draw();
}

/** A bar, with a button that stops the work.
 * @param {{ book: BookState, panel: string, work: Work, ends?: (answer: any) => void }} given */
export function LongWork({ book, panel, work, ends = ({ error }) => book.local.set("error", error ?? "") }) {
  useEffect(() => {
    askForParts(book, panel, ends);
  }, [panel]);
  return html`<div class="mk-long">
    <label>${work.said}<progress max=${work.of} value=${work.done ?? null}></progress></label>
    <${Button} icon="close" word="Stop" hint="Stop; nothing is saved then" press=${() =>
      book.send({ kind: "do", panel, name: "stop", values: {} })} /></div>`;
}
