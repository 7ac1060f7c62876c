// @ts-check
/** The photographs of a pattern: chosen among the files beside the workbook, with what each shows in words. */

import { Button } from "./controls.js";
import { html } from "./kit.js";
import { askShare } from "./share_talk.js";

/** @typedef {import("./state.js").BookState} BookState */

const TYPED = "share-photograph";

/** What is typed of the next photograph, and what was said of the last one.
 * @param {BookState} book @returns {{ file?: string, text?: string, caption?: string, error?: string }} */
const typedOf = (book) => book.local.get(TYPED) ?? {};

/** @param {BookState} book @param {Record<string, any>} changes */
function type(book, changes) {
  book.local.set(TYPED, { ...typedOf(book), ...changes });
  book.draw();
}

/** @param {BookState} book @param {string} name @param {Record<string, any>} values */
async function press(book, name, values) {
  const { error } = await askShare(book, name, values);
  if (name === "add_photograph" && !error) book.local.set(TYPED, {});
  else type(book, { error: error ?? "" });
  book.draw();
}

/** One photograph of the design.
 * @param {{ book: BookState, kept: { text: string, caption: string, size: string, picture: string }, at: number }} given */
function KeptPhotograph({ book, kept, at }) {
  /** @param {"text" | "caption"} name @param {string} label */
  const words = (name, label) => html`<label class="mk-field">${label}
    <input type="text" value=${kept[name]} onChange=${(/** @type {any} */ event) => press(book, "word_photograph",
      { at, text: kept.text, caption: kept.caption, [name]: event.target.value })} /></label>`;
  return html`<li class="mk-share-photograph">
    <img src=${kept.picture} alt=${kept.text} />
    <div class="mk-share-photograph-words">
      <span class="mk-hint">${at === 1 ? "The cover" : `Photograph ${at}`}, ${kept.size}</span>
      ${words("text", "What it shows")} ${words("caption", "Caption")}
      <div class="mk-row">
        ${at > 1 && html`<${Button} word="Make it the cover" press=${() => press(book, "lead_photograph", { at })} />`}
        <${Button} word="Take it out" press=${() => press(book, "drop_photograph", { at })} />
      </div>
    </div>
  </li>`;
}

/** @param {{ book: BookState }} given */
export function SharePhotographs({ book }) {
  const { kept, files, most } = book.panel.photographs;
  const typed = typedOf(book);
  const id = `${book.link.view}-photographs`;
  /** @param {"text" | "caption"} name @param {string} label */
  const box = (name, label) => html`<label class="mk-field">${label}
    <input type="text" value=${typed[name] ?? ""} onInput=${(/** @type {any} */ event) => type(book, { [name]: event.target.value })} />
  </label>`;
  return html`<section class="mk-share-group" aria-labelledby=${id}><h3 id=${id}>Photographs</h3>
    <p class="mk-hint">The first is the cover of the pattern. They stand in the design file too, ${most} at most.</p>
    ${kept.length > 0 && html`<ol class="mk-share-photographs">
      ${kept.map((/** @type {any} */ each, /** @type {number} */ number) => html`<${KeptPhotograph} key=${number} book=${book} kept=${each} at=${number + 1} />`)}
    </ol>`}
    ${kept.length < most && (files.length
      ? html`<div class="mk-row mk-share-options mk-share-add">
          <label class="mk-field">File beside the workbook
            <select value=${typed.file ?? ""} onChange=${(/** @type {any} */ event) => type(book, { file: event.target.value })}>
              <option value="">Choose a picture</option>
              ${files.map((/** @type {string} */ name) => html`<option key=${name} value=${name}>${name}</option>`)}
            </select></label>
          ${box("text", "What it shows, for those who do not see it")} ${box("caption", "Caption (may be empty)")}
          <${Button} icon="photograph" word="Add it" press=${() => press(book, "add_photograph",
            { file: typed.file ?? "", text: typed.text ?? "", caption: typed.caption ?? "" })} />
        </div>`
      : html`<p class="mk-hint">Put PNG or JPEG files into the folder named above, and open this panel again.</p>`)}
    <p class="mk-fault" role="status">${typed.error}</p>
  </section>`;
}
