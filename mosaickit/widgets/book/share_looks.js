// @ts-check
/** What is looked at before it is shared: the sheets of the PDF, and the code that makes the design. */

import { Button } from "./controls.js";
import { html, useRef } from "./kit.js";
import { LongWork } from "./long_work.js";
import { askShare, EDIT, isMade, keepSheet, optionsOf, PREVIEW, takeIn } from "./share_talk.js";

/** @typedef {import("./state.js").BookState} BookState */

/** @param {BookState} book @param {number} sheet */
async function askSheet(book, sheet) {
  const options = optionsOf(book);
  const before = book.local.get("share-sheet");
  book.local.set("share-sheet", { ...before, options: JSON.stringify(options), working: true, error: "" });
  const answer = await askShare(book, "preview", { sheet, options });
  if (!answer.working) keepSheet(book, answer);
  book.draw();
}

/** The sheets of the PDF as pictures, one at a time.
 * @param {{ book: BookState }} given */
export function SheetsPreview({ book }) {
  const { sheet, of, data, design, options, error, working: asked } = book.local.get("share-sheet") ?? {};
  const working = asked || isMade(book, PREVIEW);
  const full = book.local.get("share-full") ?? false;
  const other = data && (design !== book.panel.design || options !== JSON.stringify(optionsOf(book)));
  return html`<div class="mk-share-sheets">
    <div class="mk-row">
      <${Button} icon="page" word=${working && !data ? "Setting the pages…" : data ? "Preview again" : "Preview the pages"}
        off=${!!working} press=${() => askSheet(book, sheet ?? 1)} />
      ${data && html`<${Button} word="Page before" off=${!!working || sheet === 1} press=${() => askSheet(book, sheet - 1)} />
        <${Button} word="Next page" off=${!!working || sheet === of} press=${() => askSheet(book, sheet + 1)} />
        <${Button} icon=${full ? "smaller" : "larger"} word=${full ? "Fit the width" : "Full size"} press=${() => {
          book.local.set("share-full", !full);
          book.draw();
        }} />`}
      <span role="status">${data && `Page ${sheet} of ${of}`}</span>
    </div>
    ${error && html`<p class="mk-fault" role="status">${error}</p>`}
    ${other && html`<p class="mk-share-lacks" role="status">The design or a choice has changed since. Preview again to see it.</p>`}
    ${data && html`<div class="mk-share-window" tabindex=${full ? 0 : null} role=${full ? "group" : null}
      aria-label=${full ? "The page in full size" : null}>
      <img class=${`mk-share-sheet ${full ? "mk-share-full" : ""} ${other ? "mk-share-old" : ""}`}
        alt=${`Page ${sheet} of ${of} of the PDF`} src=${`data:image/png;base64,${data}`} /></div>`}
  </div>`;
}

/** What a technical editor would mark, asked for by a button, in the order in which the pattern is read.
 * @param {{ book: BookState }} given */
export function EditorMarks({ book }) {
  const { head, marks, unjudged, design, error, asked } = book.local.get("share-edit") ?? {};
  const { work } = book.panel;
  const working = asked || isMade(book, EDIT);
  const id = `${book.link.view}-edit`;
  const ask = async () => {
    book.local.set("share-edit", { ...book.local.get("share-edit"), asked: true, error: "" });
    book.draw();
    const answer = await askShare(book, "edit", { options: optionsOf(book) });
    book.local.set("share-edit", answer.working ? {} : answer);
    book.draw();
  };
  return html`<section class="mk-share-group" aria-labelledby=${id}><h3 id=${id}>What an editor would mark</h3>
    <p class="mk-hint">The pattern is read as a technical editor reads it before it is sold. Nothing is changed.</p>
    <div class="mk-row">
      <${Button} icon="page" word=${working ? "Reading…" : head ? "Read it again" : "Read the pattern"} off=${!!working || !!book.panel.lacks} press=${ask} />
      <span role="status">${head && !working && head}</span>
    </div>
    ${work?.what === EDIT && html`<${LongWork} book=${book} panel="share" work=${work} ends=${(/** @type {any} */ answer) => takeIn(book, answer)} />`}
    ${error && html`<p class="mk-fault" role="status">${error}</p>`}
    ${head && design !== book.panel.design && html`<p class="mk-share-lacks" role="status">The design has changed since. Read it again.</p>`}
    ${marks && marks.length > 0 && html`<ul class="mk-share-marks">${marks.map((/** @type {any} */ mark) => html`<li>
      <strong>${mark.severity === "error" ? "Error" : "Advice"}, ${mark.where}:</strong> ${mark.message} ${mark.cure}</li>`)}</ul>`}
    ${unjudged && html`<p class="mk-hint">Not judged: ${unjudged.join(" ")}</p>`}
  </section>`;
}

/** The code that makes the design, and a button that copies it.
 * @param {{ book: BookState }} given */
export function PythonCode({ book }) {
  const { text, design, error, copied } = book.local.get("share-python") ?? {};
  const box = useRef(/** @type {HTMLTextAreaElement | null} */ (null));
  const id = `${book.link.view}-python`;
  const show = async () => {
    book.local.set("share-python", await askShare(book, "python"));
    book.draw();
  };
  const copy = async () => {
    let said = "Copied.";
    try {
      await navigator.clipboard.writeText(text);
    } catch { // a page that is not trusted may not; the keys always do
      box.current?.select();
      said = "All of it is selected: copy it with Ctrl+C, or Cmd+C on a Mac.";
    }
    book.local.set("share-python", { text, design, copied: said });
    book.draw();
  };
  return html`<section class="mk-share-group"><h3>Python</h3>
    <p class="mk-hint">The code that makes this design, to go on with in a cell of your own.</p>
    <div class="mk-row">
      <${Button} icon="list" word=${text ? "Show it again" : "Show me the Python"} press=${show} />
      ${text && html`<${Button} icon="copy" word="Copy" press=${copy} />`}
      <span role="status">${copied}</span>
    </div>
    ${error && html`<p class="mk-fault" role="status">${error}</p>`}
    ${text && design !== book.panel.design && html`<p class="mk-share-lacks">The design has changed since. Show it again.</p>`}
    ${text && html`<label class="mk-share-code" for=${id}>Python code of this design</label>
      <textarea id=${id} ref=${box} readonly spellcheck="false" rows=${Math.min(24, text.split("\n").length)}
        value=${text}></textarea>`}
  </section>`;
}
