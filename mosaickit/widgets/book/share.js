// @ts-check
/** Share: everything that can be given to others or kept, each by one button, and what became of it beneath. */

import { Button, Icon } from "./controls.js";
import { html, useLayoutEffect, useRef } from "./kit.js";
import { LongWork } from "./long_work.js";
import { MarkOptions } from "./share_marks.js";
import { SharePhotographs } from "./share_photographs.js";
import { EditorMarks, PythonCode, SheetsPreview } from "./share_looks.js";
import { fetchFile, isMade, optionsOf, PREVIEW, saveFile, setOption, takeIn } from "./share_talk.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ label: string, hint: string, lacks: string, files: [string, string][] }} Thing
 */

/** What is there already, and the two ways on, the first of which the keys reach at once.
 * @param {{ taken: { found: string, name: string, free: string }, answer: (how: "free" | "replace") => void }} given */
function Taken({ taken, answer }) {
  const asks = useRef(/** @type {HTMLElement | null} */ (null));
  useLayoutEffect(() => asks.current?.querySelector("button")?.focus(), []);
  return html`<div class="mk-share-taken" ref=${asks}>
    <p>${taken.found}</p>
    <div class="mk-row">
      <${Button} icon="save" word=${`Save as ${taken.free}`} press=${() => answer("free")} />
      <${Button} word="Replace it" hint=${`Replace ${taken.name}`} press=${() => answer("replace")} />
    </div>
  </div>`;
}

/** What became of one file: saved, and how it gets to this device; or why it was not.
 * @param {{ book: BookState, what: string }} given */
function Outcome({ book, what }) {
  const { saved, error, fetching, fetched } = book.local.get(`share:${what}`) ?? {};
  const earlier = saved && saved.design !== book.panel.design ? ", before the design last changed" : "";
  return html`
    ${saved && html`<span class="mk-share-done"><${Icon} name="done" />Saved ${saved.name} (${saved.size})${earlier}.</span>`}
    ${saved && !fetched && html`<${Button} icon="download" word=${fetching ? "Fetching…" : "Download"} off=${fetching}
      hint=${`Bring ${saved.name} to this device`} press=${() => fetchFile(book, what)} />`}
    ${fetched && html`<a class="mk-share-link" href=${fetched.url} download=${fetched.name}>Download ${fetched.name}</a>`}
    ${error && html`<span class="mk-fault">${error}</span>`}`;
}

/** The choices of a PDF: how it is set, on what, in which fonts.
 * @param {{ book: BookState }} given */
function PaperOptions({ book }) {
  const { forms, papers, fonts } = book.panel;
  const chosen = optionsOf(book);
  /** @param {string} name @param {string} label @param {[string, string][]} options */
  const choice = (name, label, options) => html`<label class="mk-field">${label}
    <select value=${chosen[name]} onChange=${(/** @type {any} */ event) => setOption(book, name, event.target.value)}>
      ${options.map(([value, word]) => html`<option value=${value}>${word}</option>`)}
    </select></label>`;
  return html`<div class="mk-row mk-share-options">
    ${choice("form", "Print", forms)} ${choice("paper", "Paper", papers)}
    <label class="mk-share-tick"><input type="checkbox" checked=${chosen.system_fonts}
      onChange=${(/** @type {any} */ event) => setOption(book, "system_fonts", event.target.checked)} />${fonts}</label>
  </div>`;
}

/** What the chart shows; a choice where the motif comes again.
 * @param {{ book: BookState }} given */
function ChartOptions({ book }) {
  const { whole, once } = book.panel;
  const chosen = optionsOf(book);
  return html`<div class="mk-row mk-share-options">
    ${once && html`<label class="mk-field">Shows
      <select value=${chosen.whole ? "whole" : "once"}
        onChange=${(/** @type {any} */ event) => setOption(book, "whole", event.target.value === "whole")}>
        <option value="whole">The whole piece</option><option value="once">The motif once</option>
      </select></label>`}
    <span class="mk-hint">${once && !chosen.whole ? once : `${once ? "" : "The whole piece: "}${whole}`}</span>
  </div>`;
}

/** One thing, with a button for each format.
 * @param {{ book: BookState, thing: Thing }} given */
function ThingToShare({ book, thing }) {
  const { label, hint, lacks, files } = thing;
  const { work } = book.panel;
  const first = files[0][0];
  const place = useRef(/** @type {HTMLElement | null} */ (null));
  const id = `${book.link.view}-${first}`;
  /** @param {string} what */
  const keysTo = (what) => /** @type {HTMLElement} */ (place.current?.querySelector(`[data-what="${what}"]`))?.focus();
  return html`<div class="mk-share-thing" role="group" aria-labelledby=${id} ref=${place}>
    <div class="mk-share-about"><strong id=${id}>${label}</strong><p class="mk-hint">${hint}</p></div>
    <div class="mk-share-buttons">${files.map(([what, word]) => {
      const working = isMade(book, what);
      return html`<button key=${what} type="button" data-what=${what} aria-disabled=${working || null} disabled=${!!lacks}
        aria-label=${`${working ? "Saving" : "Save"} ${word}: ${label}`} class=${working ? "mk-share-working" : ""}
        onClick=${() => working || saveFile(book, what)}>
        <${Icon} name="save" />${working ? `Saving ${word}…` : `Save ${word}`}</button>`;
    })}</div>
    ${lacks && html`<p class="mk-share-lacks">${lacks}</p>`}
    ${first === "pattern.pdf" && !lacks && html`<${PaperOptions} book=${book} />`}
    ${first === "chart.svg" && !lacks && html`<${ChartOptions} book=${book} />`}
    ${work && (files.some(([what]) => what === work.what) || (first === "pattern.pdf" && work.what === PREVIEW))
      && html`<${LongWork} book=${book} panel="share" work=${work} ends=${(/** @type {any} */ answer) => takeIn(book, answer)} />`}
    ${files.map(([what]) => html`<div key=${what} class="mk-share-outcome" role="status"><${Outcome} book=${book} what=${what} /></div>`)}
    ${files.map(([what]) => {
      const { taken } = book.local.get(`share:${what}`) ?? {};
      return taken && html`<${Taken} key=${`${what} ${taken.free}`} taken=${taken} answer=${(/** @type {any} */ how) => {
        saveFile(book, what, how);
        keysTo(what); // else they would reach the notebook, where they do other things
      }} />`;
    })}
    ${first === "pattern.pdf" && !lacks && html`<${SheetsPreview} book=${book} />`}
  </div>`;
}

/** @param {{ book: BookState }} given */
export function SharePage({ book }) {
  const { groups, folder, stem, lacks } = book.panel;
  return html`
    <p class="mk-hint mk-share-where">Files go into <strong>${folder}</strong>. Their names begin with <strong>${stem}</strong>.</p>
    ${lacks && html`<p class="mk-share-lacks">${lacks}</p>`}
    <${SharePhotographs} book=${book} />
    <${MarkOptions} book=${book} />
    ${groups.map((/** @type {{ name: string, word: string, things: Thing[] }} */ { name, word, things }) => html`
      <section key=${name} class="mk-share-group"><h3>${word}</h3>
        ${things.map((thing) => html`<${ThingToShare} key=${thing.files[0][0]} book=${book} thing=${thing} />`)}
      </section>`)}
    <${EditorMarks} book=${book} />
    <${PythonCode} book=${book} />`;
}
