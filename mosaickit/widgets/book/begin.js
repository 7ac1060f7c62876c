// @ts-check
/** Begin: the ways in which a design begins, one of them open. */

import { BeginChanceWay } from "./begin_chance.js";
import { BeginFamilyWay } from "./begin_family.js";
import { BeginFilesWay, BeginFolder, beginPasted } from "./begin_files.js";
import {
  BeginChoice, BeginFault, BeginGauge, BeginNumber, BeginWall, beginGauge, beginHand, beginLive, beginNumbers,
  beginTake,
} from "./begin_parts.js";
import { BeginPictureWay } from "./begin_picture.js";
import { Button } from "./controls.js";
import { html, useEffect, useRef } from "./kit.js";

/** @typedef {import("./state.js").BookState} BookState */

/** @param {{ book: BookState }} given */
function BeginSheetWay({ book }) {
  const hand = beginHand(book);
  const { sheet, size } = hand;
  const live = beginLive(book, "size", (answer) => {
    hand.size = answer;
    book.draw();
  });
  const values = () => ({ ...beginNumbers(sheet), ...beginGauge(book) });
  const look = () => live.send(values());
  useEffect(() => {
    look();
  }, []);
  const put = (/** @type {string} */ name) => (/** @type {string} */ value) => {
    sheet[name] = value;
    look();
    book.draw();
  };
  const squares = sheet.measure === "squares";
  const unit = squares ? "" : sheet.measure;
  return html`<section class="mk-begin-part">
    <div class="mk-row">
      <${BeginChoice} label="Size in" value=${sheet.measure} put=${put("measure")}
        options=${[["squares", "stitches and rows"], ["cm", "cm"], ["in", "inches"]]} />
      <${BeginNumber} label=${squares ? "Stitches" : "Width"} unit=${unit} value=${sheet.across} least=${squares ? 1 : 0}
        step=${squares ? 1 : "any"} put=${put("across")} />
      <${BeginNumber} label=${squares ? "Rows" : "Height"} unit=${unit} value=${sheet.up} least=${squares ? 1 : 0}
        step=${squares ? 1 : "any"} put=${put("up")} />
    </div>
    <${BeginGauge} book=${book} changed=${look} hint=${squares
      ? "The new design gets it. Leave it empty if you do not know it yet."
      : "It says how many stitches and rows that is, and the new design gets it."} />
    <p class=${size.error ? "mk-fault" : ""} role="status">${size.error ?? size.said ?? ""}</p>
    <div class="mk-row"><${Button} icon="begin" word="Begin a new sheet" main off=${Boolean(size.error) && !live.busy}
      press=${() => beginTake(book, "sheet", values())} /></div>
    <${BeginFolder} book=${book} few=${6} />
  </section>`;
}

/** The motifs that come with mosaickit, once they are known.
 * @type {WeakMap<BookState, import("./begin_parts.js").BeginTile[]>} */
const BEGIN_GALLERY = new WeakMap();

/** @param {{ book: BookState }} given */
function BeginGalleryWay({ book }) {
  const hand = beginHand(book);
  const tiles = BEGIN_GALLERY.get(book);
  useEffect(() => {
    if (tiles) return;
    book.ask("begin", "gallery").then((answer) => {
      hand.fault = answer.error ?? "";
      BEGIN_GALLERY.set(book, answer.tiles ?? []);
      book.draw();
    });
  }, []);
  return html`<section class="mk-begin-part">
    <${BeginGauge} book=${book} hint="The new design gets it. Leave it empty if you do not know it yet." />
    ${tiles
      ? html`<${BeginWall} tiles=${tiles}
          take=${(/** @type {any} */ tile) => beginTake(book, "motif", { name: tile.name })} />`
      : html`<p class="mk-hint">Opening the gallery …</p>`}
  </section>`;
}

/** @type {[string, string, string, (given: { book: BookState }) => any][]} */
const BEGIN_WAYS = [
  ["sheet", "begin", "New sheet", BeginSheetWay],
  ["gallery", "lay", "Gallery", BeginGalleryWay],
  ["family", "family", "Family", BeginFamilyWay],
  ["files", "open", "Open", BeginFilesWay],
  ["picture", "photograph", "Photo", BeginPictureWay],
  ["chance", "chance", "Chance", BeginChanceWay],
];

/** @param {{ book: BookState }} given */
export function BeginPage({ book }) {
  const hand = beginHand(book);
  const place = useRef(/** @type {HTMLElement | null} */ (null));
  beginPasted(book, place);
  const [, , , Way] = BEGIN_WAYS.find(([name]) => name === hand.way) ?? BEGIN_WAYS[0];
  return html`<div class="mk-begin-ways" ref=${place} role="group" aria-label="Begin with">
      ${BEGIN_WAYS.map(([name, icon, word]) => html`<${Button} key=${name} icon=${icon} word=${word}
        chosen=${name === hand.way} press=${() => {
          Object.assign(hand, { way: name, fault: "", refused: "", image: null });
          book.draw();
        }} />`)}
    </div>
    <${BeginFault} said=${hand.fault} far />
    <${Way} key=${hand.way} book=${book} />`;
}
