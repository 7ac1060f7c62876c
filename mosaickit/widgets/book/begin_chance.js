// @ts-check
/** A motif drawn at random to begin from; another one, and another one, until one is taken. */

import {
  BeginChoice, BeginFault, BeginGauge, BeginNumber, beginHand, beginLive, beginNumbers, beginTake,
} from "./begin_parts.js";
import { Button, SquaresPicture } from "./controls.js";
import { html, useEffect } from "./kit.js";

/** @param {{ book: import("./state.js").BookState }} given */
export function BeginChanceWay({ book }) {
  const hand = beginHand(book);
  const { settings, squares } = book.panel.chance;
  const typed = hand.chance ?? settings;
  const live = beginLive(book, "draw", (answer) => {
    hand.refused = answer.error ?? "";
    book.draw();
  });
  const draw = () => live.send(beginNumbers(hand.chance ?? typed));
  useEffect(() => {
    if (!squares) draw();
  }, []);
  const one = (/** @type {string} */ name) => (/** @type {any} */ value) => {
    hand.chance = { ...typed, ...hand.chance, [name]: value };
    draw();
    book.draw();
  };
  return html`<section class="mk-begin-part">
    <fieldset class="mk-group-of-fields"><legend>What is drawn</legend>
      <${BeginNumber} label="Stitches" value=${typed.stitches} least=${1} step=${1} put=${one("stitches")} />
      <${BeginNumber} label="Rows" value=${typed.rows} least=${1} step=${1} put=${one("rows")} />
      <${BeginChoice} label="Symmetry" value=${typed.symmetry} put=${one("symmetry")}
        options=${[["none", "none"], ["mirror", "left and right alike"], ["up-down", "top and bottom alike"],
          ["half-turn", "alike after a half-turn"], ["both", "left and right, top and bottom"]]} />
      <${BeginNumber} label="Overlaid squares" unit="%" value=${typed.share} least=${0} most=${50} step=${1}
        put=${one("share")} hint="The percentage of all squares, about. Left empty, chance decides." />
    </fieldset>
    <${BeginFault} said=${hand.refused} />
    <${BeginGauge} book=${book} hint="The new design gets it. Leave it empty if you do not know it yet." />
    ${squares && html`<div class="mk-begin-drawn"><${SquaresPicture} squares=${squares} /></div>`}
    <div class="mk-row">
      <${Button} icon="chance" word="Another one" press=${draw} />
      <${Button} icon="done" word="Use this one" main off=${!squares || (Boolean(hand.refused) && !live.busy)} press=${() => beginTake(book, "keep")} />
    </div>
  </section>`;
}
