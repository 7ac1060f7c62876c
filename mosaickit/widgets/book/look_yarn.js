// @ts-check
/** The part as yarn: asked for when something of it has changed, one picture at a time, and kept while it is the same. */

import { html, useEffect } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ picture: string, about: string, fault: string }} YarnPicture
 */

const MOST_PICTURES_KEPT = 8; // pictures, so that turning over and back waits for nothing

/** @type {WeakMap<BookState, { asking: boolean, kept: Map<string, YarnPicture>, last: YarnPicture | null }>} */
const yarnPictures = new WeakMap();

/** @param {BookState} book */
function picturesOf(book) {
  const known = yarnPictures.get(book) ?? { asking: false, kept: new Map(), last: null };
  yarnPictures.set(book, known);
  return known;
}

/** Ask for the part that is shown, unless it is there or another is on its way.
 * @param {BookState} book */
async function askForYarn(book) {
  const pictures = picturesOf(book);
  const key = book.panel.part?.key;
  if (!key || pictures.asking || pictures.kept.has(key)) return;
  pictures.asking = true;
  const answer = await book.ask("look", "draw");
  pictures.asking = false;
  pictures.kept.set(answer.key ?? key, {
    picture: answer.picture ?? "",
    about: answer.about ?? "",
    fault: answer.error ?? "",
  });
  if (pictures.kept.size > MOST_PICTURES_KEPT) pictures.kept.delete([...pictures.kept.keys()][0]);
  book.draw();
  askForYarn(book); // the part may have moved on meanwhile
}

/** @param {{ book: BookState }} given */
export function YarnOfPart({ book }) {
  const { key } = book.panel.part;
  useEffect(() => void askForYarn(book), [key]);
  const pictures = picturesOf(book);
  const now = pictures.kept.get(key);
  if (now) pictures.last = now;
  const shown = now ?? pictures.last;
  const faces = shown?.picture && html`<img class=${now ? "" : "mk-look-old"} src=${shown.picture} alt=${now ? now.about : ""} />`;
  return html`<figure class="mk-look-yarn">
    <div class="mk-look-cloth" aria-busy=${now ? null : "true"}>${faces}</div>
    <figcaption><span role="status" class=${now?.fault ? "mk-fault" : ""}>${now
      ? now.fault || now.about : "The yarn is being drawn."}</span></figcaption>
  </figure>`;
}
