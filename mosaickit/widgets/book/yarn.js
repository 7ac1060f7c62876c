// @ts-check
/** Yarn: the yarns, gauge and hook, skeins and what to buy, swatches. */

import { Groups } from "./fields.js";
import { html } from "./kit.js";
import { YarnColours } from "./yarn_colours.js";
import { YarnBuying, YarnSkeins } from "./yarn_skeins.js";
import { YarnSwatches } from "./yarn_swatches.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function YarnPage({ book }) {
  const { groups, gauge, lengths } = book.panel;
  return html`<${YarnColours} book=${book} />
    <${Groups} book=${book} groups=${groups.slice(0, 1)} />
    <p class="mk-hint">${gauge}</p>
    <${Groups} book=${book} groups=${groups.slice(1)} />
    ${lengths && html`<p class="mk-hint">${lengths}</p>`}
    <div class="mk-yarn-colours"><${YarnSkeins} book=${book} /><${YarnBuying} book=${book} /></div>
    <${YarnSwatches} book=${book} />`;
}
