// @ts-check
/** How charts are drawn, on paper, on a page and as pictures: chosen once for all of them. */

import { html } from "./kit.js";
import { askShare, optionsOf, setOption } from "./share_talk.js";

/** @typedef {import("./state.js").BookState} BookState */

/** Take other letters, and ask Python whether they can be told apart.
 * @param {BookState} book @param {string} stitch @param {string} letters */
async function setLetters(book, stitch, letters) {
  setOption(book, "letters", { ...optionsOf(book).letters, [stitch]: letters });
  const { error } = await askShare(book, "marks", { options: optionsOf(book) });
  book.local.set("share-letters-said", error ?? "");
  book.draw();
}

/** The choice, and the letters where letters are chosen.
 * @param {{ book: BookState }} given */
export function MarkOptions({ book }) {
  const { marks, stitches, once } = book.panel;
  const chosen = optionsOf(book);
  const id = `${book.link.view}-letters`;
  const said = book.local.get("share-letters-said");
  return html`<div class="mk-row mk-share-options">
    <label class="mk-field">Stitches in charts
      <select value=${chosen.marks} onChange=${(/** @type {any} */ event) => setOption(book, "marks", event.target.value)}>
        ${marks.map((/** @type {[string, string]} */ [value, word]) => html`<option value=${value}>${word}</option>`)}
      </select></label>
    ${once && html`<label class="mk-field">Chart of the pattern
      <select value=${chosen.in_full ? "full" : "once"}
        onChange=${(/** @type {any} */ event) => setOption(book, "in_full", event.target.value === "full")}>
        <option value="once">Each repeat once</option>
        <option value="full">The whole piece</option>
      </select></label>`}
    ${chosen.marks === "letters" && html`<fieldset class="mk-share-letters" aria-describedby=${id}>
      <legend>Letters of the stitches</legend>
      ${stitches.map((/** @type {[string, string]} */ [stitch, word]) => html`<label class="mk-field" key=${stitch}>${word}
        <input type="text" size="3" maxlength="2" value=${chosen.letters[stitch]} autocomplete="off" autocapitalize="none"
          onChange=${(/** @type {any} */ event) => setLetters(book, stitch, event.target.value)} /></label>`)}
      <p id=${id} class=${said ? "mk-fault" : "mk-hint"} role="status">${said
        || "One or two letters for each stitch. One stitch may have none."}</p>
    </fieldset>`}
  </div>`;
}
