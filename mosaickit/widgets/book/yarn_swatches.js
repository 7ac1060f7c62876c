// @ts-check
/** Swatches: those of the design, what they taught, which would help most, and the form of one that was measured. */

import { Button } from "./controls.js";
import { html } from "./kit.js";
import { enteredIn } from "./yarn_box.js";

/** @typedef {import("./state.js").BookState} BookState */

/** What is typed in the form, by its book: it stays while other panels are open.
 * @type {WeakMap<BookState, Record<string, any>>} */
const swatchForms = new WeakMap();

/** @param {BookState} book */
function formOf(book) {
  return { ...book.panel.swatches.form, ...swatchForms.get(book) };
}

/** @param {BookState} book @param {Record<string, any>} part */
function fillIn(book, part) {
  swatchForms.set(book, { ...swatchForms.get(book), ...part });
  book.draw();
}

/** @param {{ book: BookState, name: string, label: string, unit?: string, hint?: string, whole?: boolean }} given */
function SwatchBox({ book, name, label, unit = "", hint = "", whole = false }) {
  const id = `${book.link.view}-swatch-${name}`;
  return html`<div class="mk-field"><label for=${id}>${label}</label>
    <span class="mk-entry"><input id=${id} type="number" inputmode=${whole ? "numeric" : "decimal"} min="0"
      step=${whole ? 1 : "any"} value=${formOf(book)[name] ?? ""} aria-describedby=${hint ? `${id}-hint` : null}
      onInput=${(/** @type {any} */ event) => {
        const entered = enteredIn(event.target);
        if (entered !== undefined) fillIn(book, { [name]: entered });
      }} />${unit && html`<span class="mk-unit">${unit}</span>`}</span>
    ${hint && html`<p id=${`${id}-hint`} class="mk-hint">${hint}</p>`}</div>`;
}

/** @param {{ book: BookState, name: string, label: string, options: [any, string][] }} given */
function SwatchChoice({ book, name, label, options }) {
  const id = `${book.link.view}-swatch-${name}`;
  return html`<div class="mk-field"><label for=${id}>${label}</label>
    <span class="mk-entry"><select id=${id} value=${String(options.findIndex(([value]) => value === formOf(book)[name]))}
      onChange=${(/** @type {any} */ event) => fillIn(book, { [name]: options[Number(event.target.value)][0] })}>
      ${options.map(([, word], at) => html`<option key=${at} value=${String(at)}>${word}</option>`)}</select></span></div>`;
}

/** @param {{ book: BookState }} given */
function SwatchForm({ book }) {
  const form = formOf(book);
  const unit = form.measured === "grams" ? "g" : "m";
  const add = async () => {
    const answer = await book.do("swatch", form);
    if (!answer.error) fillIn(book, { MC: null, CC: null, all: null });
  };
  return html`<details class="mk-yarn-form" open=${book.local.get("swatch form") ?? null}
      onToggle=${(/** @type {any} */ event) => book.local.set("swatch form", event.target.open)}>
    <summary>Add a swatch that you measured</summary>
    <fieldset class="mk-group-of-fields"><legend>What was worked</legend>
      <${SwatchChoice} book=${book} name="of" label="Swatch" options=${[["motif", "the motif"], ["plain", "plain rows"]]} />
      ${form.of === "motif" && html`
        <${SwatchBox} book=${book} name="across" label="Repeats across" whole />
        <${SwatchBox} book=${book} name="up" label="Repeats up" whole />
        <${SwatchChoice} book=${book} name="reversible" label="Fabric" options=${[[false, "plain"], [true, "reversible"]]} />`}
      ${form.of === "plain" && html`
        <${SwatchBox} book=${book} name="stitches" label="Stitches" whole />
        <${SwatchBox} book=${book} name="rows" label="Rows" whole />`}
      ${book.panel.swatches.round && html`
        <${SwatchChoice} book=${book} name="in_the_round" label="Worked"
          options=${[[false, "flat"], [true, "in the round"]]} />
        <p class="mk-hint">How the swatch itself was worked: between flat rows and between rounds yarn goes different
          ways, so the amount differs.</p>`}
      <${SwatchChoice} book=${book} name="between_rows" label="Yarn between rows"
        options=${[["carried", "carried"], ["cut", "cut"]]} />
      <${SwatchBox} book=${book} name="tail_cm" label="Tails" unit="cm each" hint="0 if they were cut off." />
    </fieldset>
    <fieldset class="mk-group-of-fields"><legend>Its gauge</legend>
      <${SwatchBox} book=${book} name="gauge_stitches" label="Stitches in its gauge" />
      <${SwatchBox} book=${book} name="gauge_rows" label="Rows in its gauge" />
      <${SwatchBox} book=${book} name="over" label="Measured over" />
      <${SwatchChoice} book=${book} name="unit" label="Unit" options=${[["cm", "cm"], ["in", "inches"]]} />
      <${SwatchBox} book=${book} name="over_rows" label="Rows over another length" hint="Left empty, the same." />
    </fieldset>
    <fieldset class="mk-group-of-fields"><legend>What it took</legend>
      <${SwatchChoice} book=${book} name="measured" label="Measured"
        options=${[["metres", "unravelled, in metres"], ["grams", "weighed, in grams"]]} />
      <${SwatchChoice} book=${book} name="each" label="Amounts" options=${[[true, "of each colour"], [false, "of all of it"]]} />
      ${form.each
        ? html`<${SwatchBox} book=${book} name="MC" label="MC" unit=${unit} /><${SwatchBox} book=${book} name="CC" label="CC"
            unit=${unit} />`
        : html`<${SwatchBox} book=${book} name="all" label="All of it" unit=${unit} />`}
      <${SwatchBox} book=${book} name="resolution" label="Read to the nearest" unit=${unit} />
      ${form.measured === "grams" && html`
        <${SwatchBox} book=${book} name="skein_metres" label="A skein has" unit="m" hint="As its label says." />
        <${SwatchBox} book=${book} name="skein_grams" label="and weighs" unit="g" />`}
    </fieldset>
    <${Button} icon="done" word="Add the swatch" main press=${add} />
  </details>`;
}

/** @param {{ book: BookState }} given */
export function YarnSwatches({ book }) {
  const { swatches, taught, advised, own_lengths } = book.panel.swatches;
  return html`<section class="mk-yarn-part mk-yarn-swatches">
    <h3>Swatches</h3>
    <p class="mk-hint">A swatch that you weigh or unravel teaches how long your stitches are. Worked in one yarn and by one
      hand, all swatches count together.</p>
    ${own_lengths && html`<p class="mk-yarn-mind">This design has lengths of its own, so it takes no swatches.
      <${Button} icon="remove" word="Leave those lengths out" press=${() => book.do("own lengths out")} /></p>`}
    ${swatches.map((/** @type {any} */ { number, chart, gauge, took }) => html`<div class="mk-yarn-swatch" key=${number}>
      <p><strong>Swatch ${number}:</strong> ${chart}. ${gauge}. ${took}.</p>
      <${Button} icon="remove" word="Remove" hint=${`Remove swatch ${number}`}
        press=${() => book.do("remove swatch", { number })} /></div>`)}
    ${taught && html`<div class="mk-yarn-taught"><h4>What they taught</h4><p>${taught.said}</p>
      ${taught.lines.length > 0 && html`<table class="mk-yarn-compared">
        <caption>Yarn in a stitch, as a multiple of the default</caption>
        <thead><tr><th scope="col">stitch</th><th scope="col">likely</th><th scope="col">9 times in 10</th></tr></thead>
        <tbody>${taught.lines.map((/** @type {string[]} */ [stitch, times, range]) => html`<tr key=${stitch}>
          <th scope="row">${stitch}</th><td>${times}</td><td>${range}</td></tr>`)}</tbody></table>`}</div>`}
    <div><${Button} icon="help" word="Which swatch would help most?" press=${() => book.do("advise")} /></div>
    ${advised.length > 0 && html`<ol class="mk-yarn-advised">
      ${advised.map((/** @type {any} */ { word, said, form }) => html`<li key=${word}><strong>${word}:</strong> ${said}
        <${Button} word="Fill in the form" hint=${`Fill in the form with: ${word}`} press=${() => {
          book.local.set("swatch form", true);
          fillIn(book, form);
        }} /></li>`)}</ol>`}
    <${SwatchForm} book=${book} />
  </section>`;
}
