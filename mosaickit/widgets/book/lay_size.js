// @ts-check
/** A wanted size: what is typed of it, and the counts of repeats that come near. */

import { Button, Icon, SquaresPicture } from "./controls.js";
import { Groups } from "./fields.js";
import { html } from "./kit.js";
import { proportionOf } from "./lay_piece.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ key: string, counts: string, stitches: string, size: string, off: string, taken: boolean, gauge: string,
 *   yarns: { name: string, colour: string, said: string }[], picture: import("./state.js").Squares | null }} Fit
 * @typedef {{ faults: Record<string, string>, said: string, notes: string[], fits: Fit[], more: number,
 *   nearest: Fit[], struck: { key: string, counts: string, size: string, why: string }[], struckSaid: string,
 *   allow: string, ways: { key: string, word: string }[] }} FoundFits
 */

/** The pictures of a list have one scale; this is the room of the largest of them, in pixels. */
const LARGEST_PICTURE = { wide: 104, high: 144 };

/** What is typed into a box, shown until Python has answered; Python keeps it beside the design.
 * @param {BookState} book @param {string} name */
function typedIn(book, name) {
  const draft = `lay ${name}`;
  return {
    value: book.local.get(draft) ?? book.panel.typed[name] ?? "",
    type: (/** @type {any} */ event) => book.local.set(draft, event.target.value),
    keep: async (/** @type {any} */ event) => {
      const value = event.target.value;
      book.local.set(draft, value);
      await book.do("type", { [name]: value });
      if (book.local.get(draft) === value) book.local.delete(draft);
      book.draw();
    },
  };
}

/** @param {{ book: BookState, name: string, label: any, unit?: string, hint?: string }} given */
function TypedBox({ book, name, label, unit = "", hint = "" }) {
  const id = `${book.link.view}-lay-${name}`;
  const fault = book.panel.found.faults[name];
  const { value, type, keep } = typedIn(book, name);
  return html`<div class="mk-field">
    <label for=${id}>${label}</label>
    <span class="mk-entry"><input id=${id} type="text" inputmode="decimal" autocomplete="off" value=${value}
      aria-describedby=${fault || hint ? `${id}-said` : null} aria-invalid=${fault ? true : null}
      onInput=${type} onChange=${keep} />
      ${unit && html`<span class="mk-unit">${unit}</span>`}</span>
    ${(fault || hint) && html`<p id=${`${id}-said`} class=${fault ? "mk-fault" : "mk-hint"}>${fault || hint}</p>`}
  </div>`;
}

/** @param {{ book: BookState, name: string, label: string, options: [string, string][] }} given */
function TypedChoice({ book, name, label, options }) {
  const id = `${book.link.view}-lay-${name}`;
  const { value, keep } = typedIn(book, name);
  return html`<div class="mk-field">
    <label for=${id}>${label}</label>
    <select id=${id} value=${value} onChange=${keep}>
      ${options.map(([option, word]) => html`<option value=${option}>${word}</option>`)}
    </select>
  </div>`;
}

/** The usual sizes of articles, one of which is taken into the boxes.
 * @param {{ book: BookState }} given */
function UsualSizes({ book }) {
  const id = `${book.link.view}-lay-article`;
  return html`<div class="mk-field">
    <label for=${id}>Usual sizes</label>
    <select id=${id} value="" onChange=${(/** @type {any} */ event) => {
      book.do("article", { article: event.target.value });
      event.target.value = "";
    }}>
      <option value="">choose…</option>
      ${book.panel.articles.map((/** @type {string} */ name) => html`<option value=${name}>${name}</option>`)}
    </select>
  </div>`;
}

/** A yarn's colour and name, and a sentence about it.
 * @param {{ yarn: { name: string, colour: string }, said: string }} given */
function YarnLine({ yarn, said }) {
  return html`<span class="mk-lay-yarn"><span class="mk-ink" style=${{ background: yarn.colour }}></span>
    <span>${yarn.name}${said}</span></span>`;
}

/** How many skeins there are of each yarn; what a skein is, if that is not known.
 * @param {{ book: BookState }} given */
function Skeins({ book }) {
  const { limits, skeins } = book.panel;
  const box = (/** @type {{ name: string, colour: string }} */ yarn, /** @type {string} */ part,
    /** @type {string} */ said, /** @type {string} */ unit) => html`<${TypedBox} book=${book}
      name=${`${part}:${yarn.name}`} label=${html`<${YarnLine} yarn=${yarn} said=${said} />`} unit=${unit} />`;
  return html`<details class="mk-lay-skeins" open=${book.local.get("lay skeins") ?? false}
      onToggle=${(/** @type {any} */ event) => book.local.set("lay skeins", event.target.open)}>
    <summary>Limit the skeins</summary>
    <p class="mk-hint">${skeins
      ? "Left empty, there is no limit."
      : "Skeins can be counted once it is known what is in one: enter what the label says."}</p>
    <div class="mk-row">
      ${limits.map((/** @type {{ name: string, colour: string }} */ yarn) => skeins
        ? box(yarn, "limit", "", "skeins")
        : [box(yarn, "metres", ": in a skein", "m"), box(yarn, "grams", ": weighs", "g")])}
      ${!skeins && html`<${Button} icon="done" word="Keep these skeins" press=${() => book.do("skeins")} />`}
    </div>
  </details>`;
}

/** @param {{ book: BookState, fit: Fit, scale: number }} given */
function FitLine({ book, fit, scale }) {
  const { key, counts, stitches, size, off, yarns, taken, picture, gauge } = fit;
  return html`<li class="mk-lay-fit">
    <div class="mk-lay-small" style=${picture && { width: `${Math.max(picture.stitches * picture.aspect * scale, 2)}px` }}>
      ${picture ? html`<${SquaresPicture} squares=${{ ...picture, word: "" }} />` : html`<small>Too large to show here.</small>`}
    </div>
    <div class="mk-lay-about">
      <strong>${counts}</strong>
      <span>${size}</span>
      <span class="mk-hint">${off} · ${stitches}</span>
      ${yarns.map((yarn) => html`<${YarnLine} key=${`${yarn.name}${yarn.colour}`} yarn=${yarn} said=${`: ${yarn.said}`} />`)}
      ${gauge && html`<span class="mk-hint">${gauge}</span>`}
      <${Button} icon="done" word=${taken ? "Taken" : "Take"} chosen=${taken} hint=${`${counts}, ${size}`}
        press=${() => book.do("take", { key })} />
    </div>
  </li>`;
}

/** @param {{ book: BookState, fits: Fit[] }} given */
function Fits({ book, fits }) {
  const pictures = fits.flatMap(({ picture }) => picture ?? []);
  const high = Math.max(...pictures.map(({ rows }) => rows), 1);
  const wide = Math.max(...pictures.map(({ stitches, aspect }) => stitches * aspect), 1);
  const scale = Math.min(LARGEST_PICTURE.wide / wide, LARGEST_PICTURE.high / high);
  return html`<ul class="mk-lay-fits">
    ${fits.map((fit) => html`<${FitLine} key=${fit.key} book=${book} fit=${fit} scale=${scale} />`)}
  </ul>`;
}

/** @param {{ book: BookState }} given */
export function LaySize({ book }) {
  /** @type {FoundFits} */
  const found = book.panel.found;
  const { typed: { unit }, gauge } = book.panel;
  return html`<section class="mk-lay-size">
    <h3 class="mk-lay-heading">To a wanted size</h3>
    <${Groups} book=${book} groups=${[gauge]} />
    ${gauge.note && html`<p class="mk-hint">${gauge.note}</p>`}
    <div class="mk-row">
      <${TypedBox} book=${book} name="width" label="Width" unit=${unit} />
      <${TypedBox} book=${book} name="length" label="Length" unit=${unit} hint="Leave empty to keep the repeats." />
      <${TypedChoice} book=${book} name="unit" label="Sizes in" options=${[["cm", "cm"], ["in", "inches"]]} />
      <${TypedBox} book=${book} name="tolerance" label="May differ by" unit="%" />
      <${TypedChoice} book=${book} name="worked" label="Rows run"
        options=${[["across", "across the width"], ["along", "along the length"]]} />
      <${UsualSizes} book=${book} />
    </div>
    <${Skeins} book=${book} />
    ${found.ways.length > 0 && html`<div class="mk-row" role="status">
      <p class="mk-lay-note"><${Icon} name="advice" />More sizes can be worked with another choice of colours:</p>
      ${found.ways.map(({ key, word }) => html`<${Button} key=${key} icon="done" word=${word}
        press=${() => book.enter("colours", "swap")} />`)}
    </div>`}
    <div role="status">
      ${found.said && html`<p><strong>${found.said}</strong></p>`}
      ${found.notes.map((note) => html`<p class="mk-lay-note"><${Icon} name="advice" />${note}</p>`)}
    </div>
    ${found.allow && html`<div class="mk-row"><${Button} icon="size" word=${`Let it differ by ${found.allow}%`}
      press=${() => book.do("type", { tolerance: found.allow })} /></div>`}
    ${found.fits.length > 0 && html`<${Fits} book=${book} fits=${found.fits} />`}
    ${found.more > 0 && html`<div class="mk-row"><${Button} icon="down" word=${`Show more (${found.more} left)`}
      press=${() => book.do("more")} /></div>`}
    ${found.nearest.length > 0 && html`<${Fits} book=${book} fits=${found.nearest} />`}
    ${found.struckSaid && html`<p><strong>${found.struckSaid}</strong></p>
      <ul class="mk-lay-struck">${found.struck.map(({ key, counts, size, why }) => html`<li key=${key}>
        <s>${counts}, ${size}</s> <span class="mk-hint">${why}</span></li>`)}</ul>`}
  </section>`;
}
