// @ts-check
/** Many: lists to tick, a run that can be stopped, and a table of what came of it. */

import { Button, Icon } from "./controls.js";
import { html } from "./kit.js";
import { ManyTable } from "./many_table.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ key: string, word: string, adds: string, options: { key: string, word: string, on: boolean }[] }} TickGroup
 */

/** The lists whose lines are numbers, which stand side by side; a size has a list for each unit. */
const SHORT = /^(width|length|rings|edges)\b/;

/** Work out one slice after the other until all are done or it is stopped.
 * @param {BookState} book @param {boolean} fresh whether it begins, or goes on where it was stopped */
async function workOut(book, fresh) {
  book.local.set("many runs", true);
  let answer = fresh ? await book.do("start") : { left: 1 };
  while (!answer.error && answer.left !== 0 && book.local.get("many runs") === true && book.panel.name === "many") {
    answer = await book.ask("many", "slice");
    if (answer.error) book.local.set("error", answer.error);
  }
  book.local.delete("many runs");
  book.draw();
}

/** A box whose text is told to Python when it is left, and stays as it was typed until then.
 * @param {{ book: BookState, name: string, values?: Record<string, any>, label: string, value: string }} given */
function TellBox({ book, name, values = {}, label, value }) {
  const draft = `many box ${label}`;
  const tell = async (/** @type {any} */ event) => {
    const typed = event.target.value;
    book.local.set(draft, typed);
    const answer = await book.do(name, { ...values, value: typed });
    if (!answer.error && book.local.get(draft) === typed) book.local.delete(draft);
    book.draw();
  };
  return html`<label class="mk-field">${label}
    <input type="text" inputmode="decimal" autocomplete="off" value=${book.local.get(draft) ?? value}
      onInput=${(/** @type {any} */ event) => book.local.set(draft, event.target.value)} onChange=${tell} /></label>`;
}

/** A box whose text is kept in the page until it is added.
 * @param {{ book: BookState, group: string, part: string, label: string }} given */
function AddBox({ book, group, part, label }) {
  const draft = `many ${group} ${part}`;
  return html`<label class="mk-field">${label}
    <input type="text" inputmode="decimal" autocomplete="off" value=${book.local.get(draft) ?? ""}
      onInput=${(/** @type {any} */ event) => book.local.set(draft, event.target.value)} /></label>`;
}

/** What sizes are in.
 * @param {BookState} book @returns {string} */
const unitWord = (book) => book.panel.units.find((/** @type {string[]} */ [unit]) => unit === book.panel.unit)[1];

/** @param {{ book: BookState, group: TickGroup }} given */
function Ticks({ book, group }) {
  const { key, word, options, adds } = group;
  const parts = adds === "gauge" ? ["stitches", "rows"] : ["size"];
  const add = async () => {
    const values = Object.fromEntries(parts.map((part) => [part, book.local.get(`many ${key} ${part}`) ?? ""]));
    const answer = await book.do("add", { group: key, ...values });
    if (!answer.error) for (const part of parts) book.local.delete(`many ${key} ${part}`);
    book.draw();
  };
  const tick = async (/** @type {string} */ option, /** @type {boolean} */ on) => {
    const draft = `many tick ${key} ${option}`; // shown until Python has answered
    book.local.set(draft, on);
    await book.do("tick", { group: key, key: option, on });
    if (book.local.get(draft) === on) book.local.delete(draft);
    book.draw();
  };
  return html`<fieldset class="mk-many-ticks"><legend>${word}</legend>
    <div class=${SHORT.test(key) ? "mk-many-options mk-many-short" : "mk-many-options"}>${options.map((option) => html`<label key=${option.key} class="mk-many-tick">
      <input type="checkbox" checked=${book.local.get(`many tick ${key} ${option.key}`) ?? option.on}
        onChange=${(/** @type {any} */ event) => tick(option.key, event.target.checked)} />
      <span>${option.word}</span></label>`)}</div>
    ${adds && html`<div class="mk-row">
      ${parts.map((part) => html`<${AddBox} key=${part} book=${book} group=${key} part=${part}
        label=${{ stitches: "Stitches", rows: "Rows", size: `Another, in ${unitWord(book)}` }[part]} />`)}
      <${Button} icon="begin" word="Add" hint=${`Add to: ${word}`} press=${add} /></div>`}
    ${key === "motifs" && html`<div class="mk-row">
      <${Button} icon="open" word="List the folder again" press=${() => book.do("look")} />
      <label class="mk-field">Add motifs from files
        <input type="file" multiple accept=".json,.design,.png,.csv,.txt" onChange=${async (/** @type {any} */ event) => {
          const files = [...event.target.files];
          event.target.value = "";
          const contents = await Promise.all(files.map((file) => file.arrayBuffer()));
          await book.do("files", { names: files.map(({ name }) => name) }, contents);
        }} /></label></div>`}
  </fieldset>`;
}

/** @param {{ book: BookState }} given */
export function ManyPage({ book }) {
  const { groups, unit, units, counted, can, notes, tolerance, skeins, limits, run } = book.panel;
  const runs = book.local.get("many runs");
  return html`<p class="mk-hint">Tick what to compare. Where nothing is ticked in a list, what the design has is taken. The ticks and
      the table stay here until the cell is run again.</p>
    <section class="mk-many-lists">
      ${groups.map((/** @type {TickGroup} */ group) => html`<${Ticks} key=${group.key} book=${book} group=${group} />`)}
    </section>
    ${notes.map((/** @type {string} */ note) => html`<p class="mk-many-note"><${Icon} name="advice" />${note}</p>`)}
    ${!skeins && html`<p class="mk-hint">Skeins can be counted and limited here once it is known what is in one: enter it
      on Yarn.</p>`}
    <section class="mk-row">
      <label class="mk-field">Sizes in
        <select value=${unit} onChange=${(/** @type {any} */ event) => book.do("unit", { value: event.target.value })}>
          ${units.map((/** @type {string[]} */ [value, word]) => html`<option value=${value}>${word}</option>`)}
        </select></label>
      <${TellBox} book=${book} name="tolerance" label="Sizes may differ by (%)" value=${tolerance} />
      ${skeins && Object.entries(limits).map(([role, most]) => html`<${TellBox} key=${role} book=${book} name="limit"
        values=${{ role }} label=${`Skeins of ${role}, at most`} value=${most} />`)}
      <strong class="mk-many-count" role="status">${counted}</strong>
      ${runs
        ? html`<${Button} icon="close" word=${runs === true ? "Stop" : "Stopping…"} off=${runs !== true} press=${() => {
          book.local.set("many runs", "stopping"); // until the part in hand is done
          book.draw();
        }} />`
        : html`<${Button} icon="many" word="Work them out" main off=${!can || !!book.panel.work} press=${() => workOut(book, true)} />`}
      ${!runs && run && run.done < run.of && html`<${Button} icon="redo" word="Go on" press=${() => workOut(book, false)} />`}
    </section>
    ${run && html`<label class="mk-many-bar">${`${run.done} of ${run.of} parts done`}
      <progress max=${run.of} value=${run.done}></progress></label>`}
    ${run && html`<${ManyTable} book=${book} />`}`;
}
