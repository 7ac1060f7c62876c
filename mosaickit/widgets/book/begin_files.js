// @ts-check
/** Files to begin from: those of the folder, the latest first, and one from the device, sent in parts. */

import { BeginWall, beginDo, beginGauge, beginHand, beginTake, beginTaken } from "./begin_parts.js";
import { Button, Icon } from "./controls.js";
import { html, useEffect, useState } from "./kit.js";

/** @typedef {import("./state.js").BookState} BookState */

/** Bytes of a file in one message: longer ones end the connection to the notebook's server. */
const BEGIN_PART = 2 ** 21;

/** Send a file to Python, a part at a time, for a design or for a picture.
 * @param {BookState} book @param {File} file @param {"file" | "picture"} use */
async function beginSend(book, file, use) {
  const hand = beginHand(book);
  const key = Math.random().toString(36).slice(2);
  Object.assign(hand, { key, fault: "", sending: "", image: null });
  const megabytes = (/** @type {number} */ bytes) => (bytes / 1e6).toFixed(1);
  let at = 0;
  let answer;
  do {
    let part;
    try {
      part = await file.slice(at, at + BEGIN_PART).arrayBuffer();
    } catch {
      answer = { error: `“${file.name}” could not be read: choose a file, not a folder.` };
      break;
    }
    if (file.size > BEGIN_PART) hand.sending = `Sending ${file.name}: ${megabytes(at)} of ${megabytes(file.size)} MB`;
    const about = { key, at, total: file.size, name: file.name, use, ...beginGauge(book) };
    answer = await beginDo(book, "part", about, part.byteLength ? [part] : []);
    if (hand.key !== key) return; // another file was chosen meanwhile
    at += part.byteLength;
  } while (at < file.size && !answer.error);
  hand.sending = "";
  if (use === "file") {
    if (answer.error && file.type.startsWith("image/") && file.size <= 1e6 * book.panel.megabytes) hand.image = file;
    beginTaken(book, answer);
    return;
  }
  hand.fault = answer.error ?? "";
  if (!answer.error) Object.assign(hand, { picture: null, original: null, refused: "", way: "picture" });
  book.draw();
}

/** Take a picture that is pasted while the hand is at a workbook, or at nothing in particular.
 * @param {BookState} book @param {{ current: HTMLElement | null }} place what is in the workbook */
export function beginPasted(book, place) {
  useEffect(() => {
    /** @param {any} event */
    const paste = (event) => {
      const own = place.current?.closest(".mk-book");
      const { target, clipboardData } = event;
      if (!own || event.defaultPrevented || !(own.contains(target) || target.contains(own))) return;
      const file = [...(clipboardData?.files ?? [])].find(({ type }) => type.startsWith("image/"));
      if (file) {
        event.preventDefault(); // so that no other workbook of the page takes it too
        beginSend(book, file, "picture");
      } else if (beginHand(book).way === "picture" && !target.closest("input, textarea")) {
        beginHand(book).fault = "What was pasted is no picture. Copy a picture itself, not its file's name or address.";
        book.draw();
      }
    };
    document.addEventListener("paste", paste);
    return () => document.removeEventListener("paste", paste);
  }, []);
}

/** Where a file is chosen, or dropped.
 * @param {{ book: BookState, word: string, use: "file" | "picture", accept?: string, hint: string }} given */
export function BeginDrop({ book, word, use, accept, hint }) {
  const [over, setOver] = useState(false);
  const { sending } = beginHand(book);
  /** @param {any} event */
  const hold = (event) => {
    event.preventDefault();
    event.stopPropagation();
    setOver(event.type === "dragover");
  };
  /** @param {any} event */
  const drop = (event) => {
    hold(event);
    const [file] = event.dataTransfer.files;
    if (file) beginSend(book, file, use);
  };
  /** @param {any} event */
  const choose = (event) => {
    const [file] = event.target.files;
    event.target.value = ""; // so that the same file may be chosen again
    if (file) beginSend(book, file, use);
  };
  return html`<div class=${over ? "mk-begin-drop mk-begin-over" : "mk-begin-drop"}
    onDragOver=${hold} onDragLeave=${hold} onDrop=${drop}>
    <label><${Icon} name="upload" />${word}
      <input type="file" accept=${accept} onChange=${choose} /></label>
    <p class="mk-hint" role="status">${sending || hint}</p>
  </div>`;
}

/** Look into the folder, again if asked.
 * @param {BookState} book @param {number} most */
async function beginLook(book, most) {
  const hand = beginHand(book);
  hand.most = most;
  const answer = await book.ask("begin", "files", { most });
  if (answer.error) hand.fault = answer.error;
  else hand.files = answer;
  book.draw();
}

/** The last designs of the folder, a few of them or all.
 * @param {{ book: BookState, few?: number }} given */
export function BeginFolder({ book, few }) {
  const hand = beginHand(book);
  useEffect(() => {
    beginLook(book, hand.most);
  }, []);
  const { files } = hand;
  if (!files) return html`<p class="mk-hint">Looking into the folder …</p>`;
  const { tiles, faults, more, corners, folder } = files;
  const shown = few ? tiles.filter((tile) => tile.picture).slice(0, few) : tiles;
  if (few && !shown.length) return null;
  return html`<section class="mk-begin-part">
    <h3>${few ? "Last designs" : `Designs and motifs in ${folder}, the latest first`}</h3>
    ${!tiles.length && html`<p>No file in this folder holds a design or a motif.</p>`}
    <${BeginWall} tiles=${shown} take=${(/** @type {any} */ tile) => beginTake(book, "open", { name: tile.name })} />
    ${!few && html`<p class="mk-hint">${corners}</p>
    ${faults.length > 0 && html`<details><summary>${faults.length === 1
      ? "1 file that holds no design" : `${faults.length} files that hold no design`}</summary>
      <ul>${faults.map((fault) => html`<li>${fault}</li>`)}</ul></details>`}
    <div class="mk-row">
      <${Button} icon="again" word="Look again" press=${() => beginLook(book, hand.most)} />
      ${more > 0 && html`<${Button} icon="down" word=${`Show more (${more})`} press=${() => beginLook(book, hand.most + 24)} />`}
    </div>`}
    ${few && (tiles.length > shown.length || more > 0) && html`<div class="mk-row"><${Button} icon="open" word="All files"
      press=${() => { hand.way = "files"; book.draw(); }} /></div>`}
  </section>`;
}

/** @param {{ book: BookState }} given */
export function BeginFilesWay({ book }) {
  const { image } = beginHand(book);
  return html`<section class="mk-begin-part">
    <${BeginDrop} book=${book} use="file" word="Choose a design or motif, or drop it here"
      hint=${`.design, .json, .png, .csv or .txt, up to ${book.panel.megabytes} MB`} />
    ${image && html`<div class="mk-row"><${Button} icon="photograph" word="Begin from it as a picture"
      press=${() => beginSend(book, image, "picture")} /></div>`}
    <${BeginFolder} book=${book} />
  </section>`;
}
