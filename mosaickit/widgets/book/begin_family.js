// @ts-check
/** One of a family to begin from: of the motif in hand, or of one of the gallery. */

import { BeginChoice, BeginGauge, BeginWall, beginHand, beginTake } from "./begin_parts.js";
import { html, useEffect } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function BeginFamilyWay({ book }) {
  const hand = beginHand(book);
  const { of, tiles, gallery } = hand.family;
  const show = async (/** @type {string} */ name) => {
    hand.family = { ...hand.family, of: name, tiles: null };
    book.draw();
    const answer = await book.ask("begin", "family", { of: name });
    if (hand.family.of !== name) return; // another one was chosen in the meantime
    hand.fault = answer.error ?? "";
    hand.family = { of: name, tiles: answer.tiles ?? [], gallery: answer.gallery ?? gallery };
    book.draw();
  };
  useEffect(() => {
    show(of);
  }, []);
  return html`<section class="mk-begin-part">
    <${BeginChoice} label="Family of" value=${of} put=${show}
      options=${[["", "the motif in hand"], ...gallery.map((/** @type {string} */ name) => [name, name])]}
      hint="The motif itself is the first; each of the others is one change away from it, and can be worked." />
    <${BeginGauge} book=${book} hint="The new design gets it. Leave it empty if you do not know it yet." />
    ${tiles
      ? html`<${BeginWall} tiles=${tiles} take=${(/** @type {any} */ tile) => beginTake(book, "relative", { name: tile.name })} />`
      : html`<p class="mk-hint">Making the family …</p>`}
  </section>`;
}
