// @ts-check
/** What the yarns are sold in, what to buy and what it costs, and carried yarn beside cut yarn. */

import { html } from "./kit.js";
import { PressedBox } from "./yarn_box.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ name: string, word: string, metres: number | null, grams: number | null, price: number | null }} SkeinShown
 * @typedef {{ name: string, colour: string, metres: string, yards: string, band: string, grams: string, advice: string,
 *   cost: string }} TotalShown
 */

const SOLD_IN = [
  ["none", "not known"],
  ["one", "one skein for all"],
  ["each", "one for each yarn"],
];

/** @param {{ book: BookState }} given */
export function YarnSkeins({ book }) {
  const { sold_in, boxes, missing, currency } = book.panel.skeins;
  const id = `${book.link.view}-sold-in`;
  return html`<section class="mk-yarn-part">
    <h3>Skeins</h3>
    <div class="mk-field"><label for=${id}>Sold in</label>
      <span class="mk-entry"><select id=${id} value=${sold_in}
        onChange=${(/** @type {any} */ event) => book.do("sold in", { sold_in: event.target.value })}>
        ${SOLD_IN.map(([value, word]) => html`<option key=${value} value=${value}>${word}</option>`)}</select></span></div>
    ${boxes.map((/** @type {SkeinShown} */ box) => html`<fieldset class="mk-yarn-skein" key=${box.name}>
      <legend>${box.word}</legend>
      <${PressedBox} book=${book} id=${`metres-${box.name}`} label="Metres" plain value=${box.metres} name="skein"
        values=${{ name: box.name }} of="metres" unit="m" />
      <${PressedBox} book=${book} id=${`grams-${box.name}`} label="Grams" plain value=${box.grams} name="skein"
        values=${{ name: box.name }} of="grams" unit="g" />
      <${PressedBox} book=${book} id=${`price-${box.name}`} label="Price of a skein" plain value=${box.price} name="price"
        values=${{ name: box.name }} of="price" unit=${currency} />
    </fieldset>`)}
    ${boxes.length > 0 && html`<${PressedBox} book=${book} id="currency" kind="text" label="Currency" plain
        value=${currency} name="currency" values=${{}} of="currency" />
      <p class="mk-hint">Prices are not part of the design: they stay in this workbook until its cell is run again.</p>`}
    ${missing && html`<p class="mk-yarn-mind" role="status">${missing}</p>`}
  </section>`;
}

/** @param {{ book: BookState }} given */
export function YarnBuying({ book }) {
  const { note, totals, cost, accuracy, dye_lot, compared } = book.panel.buying;
  return html`<section class="mk-yarn-part">
    <h3>What the piece takes</h3>
    ${note && html`<p class="mk-yarn-mind">${note}</p>`}
    ${totals.map((/** @type {TotalShown} */ total) => html`<div class="mk-yarn-total" key=${total.name + total.colour}>
      <span class="mk-ink" style=${{ background: total.colour }}></span>
      <p><strong>${total.name}: ${total.metres}</strong> (${total.yards}), from ${total.band}${total.grams &&
        `; ${total.grams}`}${total.cost && `; ${total.cost}`}</p>
      ${total.advice && html`<p>${total.advice}</p>`}
    </div>`)}
    ${cost && html`<p><strong>${cost}</strong></p>`}
    ${accuracy && html`<p class="mk-hint">${accuracy}</p>`}
    ${dye_lot && html`<p class="mk-hint">${dye_lot}</p>`}
    ${compared && html`<${CarriedOrCut} compared=${compared} />`}
  </section>`;
}

/** @param {{ compared: { ways: string[], now: string, said: string, lines: { word: string, amounts: string[] }[] } }} given */
function CarriedOrCut({ compared }) {
  return html`<table class="mk-yarn-compared">
      <caption>Carried or cut between rows</caption>
      <thead><tr><td></td>${compared.ways.map((way) => html`<th scope="col" key=${way}>${way}${
        way === compared.now && html` <small>(chosen)</small>`}</th>`)}</tr></thead>
      <tbody>${compared.lines.map(({ word, amounts }) => html`<tr key=${word}><th scope="row">${word}</th>
        ${amounts.map((amount, at) => html`<td key=${at}>${amount}</td>`)}</tr>`)}</tbody>
    </table>
    <p class="mk-hint">${compared.said}</p>`;
}
