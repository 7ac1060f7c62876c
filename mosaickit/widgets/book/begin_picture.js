// @ts-check
/** A photograph or a drawing to begin from: cropped and set by hand, shown as it is, before and after. */

import { BeginDrop } from "./begin_files.js";
import {
  BeginChoice, BeginFault, BeginGauge, BeginNumber, beginGauge, beginHand, beginLive, beginNumbers, beginTake,
} from "./begin_parts.js";
import { Button, SquaresPicture } from "./controls.js";
import { html, useEffect, useLayoutEffect, useRef } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {Record<"left" | "top" | "right" | "bottom", any>} BeginCrop
 */

const BEGIN_KINDS = "image/png,image/jpeg,image/webp,image/gif,image/bmp,image/tiff";

/** The picture itself; what is cut off is dimmed. Dragging over it takes the part below.
 * @param {{ book: BookState, crop: BeginCrop, put: (changes: Record<string, any>) => void }} given */
function BeginOriginal({ book, crop, put }) {
  const hand = beginHand(book);
  const place = useRef(/** @type {HTMLCanvasElement | null} */ (null));
  const from = useRef(/** @type {{ x: number, y: number } | null} */ (null));
  const { original } = hand;
  useEffect(() => {
    if (original) return;
    book.ask("begin", "original").then((answer) => {
      if (!answer.error) hand.original = answer;
      book.draw();
    });
  }, [original]);
  useLayoutEffect(() => {
    if (!original || !place.current) return;
    const { wide, high, pixels } = original;
    const bytes = Uint8ClampedArray.from(atob(pixels), (each) => each.charCodeAt(0));
    place.current.getContext("2d")?.putImageData(new ImageData(bytes, wide, high), 0, 0);
  }, [original]);
  if (!original) return html`<figure class="mk-begin-shown"></figure>`;
  /** @param {any} event */
  const at = (event) => {
    const { left, top, width, height } = event.currentTarget.getBoundingClientRect();
    const share = (/** @type {number} */ part) => Math.round(100 * Math.min(1, Math.max(0, part)));
    return { x: share((event.clientX - left) / width), y: share((event.clientY - top) / height) };
  };
  /** @param {any} event */
  const press = (event) => {
    event.currentTarget.setPointerCapture(event.pointerId);
    from.current = at(event);
  };
  /** @param {any} event */
  const move = (event) => {
    const [one, two] = [from.current, at(event)];
    if (!one || Math.abs(one.x - two.x) < 4 || Math.abs(one.y - two.y) < 4) return;
    put({
      left: Math.min(one.x, two.x), right: 100 - Math.max(one.x, two.x),
      top: Math.min(one.y, two.y), bottom: 100 - Math.max(one.y, two.y),
    });
  };
  const lift = () => {
    from.current = null;
  };
  const inset = ["top", "right", "bottom", "left"].map((side) => `${Number(crop[/** @type {"top"} */ (side)]) || 0}%`);
  return html`<figure class="mk-begin-shown">
    <div class="mk-begin-crop" onPointerDown=${press} onPointerMove=${move} onPointerUp=${lift} onPointerCancel=${lift}>
      <canvas ref=${place} width=${original.wide} height=${original.high} role="img"
        aria-label=${`The picture ${book.panel.traced.name}`}></canvas>
      <span class="mk-begin-kept" style=${{ inset: inset.join(" ") }}></span>
    </div>
    <figcaption>The picture. Drag over it to crop.</figcaption>
  </figure>`;
}

/** Settings under their heading, of which one group is open at a time, so that before and after stay near them.
 * @param {{ word: string, open?: boolean, four?: boolean, children?: any }} given */
function BeginGroup({ word, open = false, four = false, children }) {
  return html`<details name="mk-begin-groups" open=${open}><summary>${word}</summary>
    <div class=${four ? "mk-group-of-fields mk-begin-four" : "mk-group-of-fields"}>${children}</div>
  </details>`;
}

/** @param {{ book: BookState }} given */
export function BeginPictureWay({ book }) {
  const hand = beginHand(book);
  const { traced } = book.panel;
  const typed = hand.picture ?? traced?.settings;
  const live = beginLive(book, "trace", (answer) => {
    hand.refused = answer.error ?? "";
    book.draw();
  });
  const trace = () => {
    if (typed || hand.picture) live.send({ ...beginNumbers(hand.picture ?? typed), ...beginGauge(book) });
  };
  useEffect(trace, [Boolean(traced)]); // with the gauge that is entered now
  /** @param {Record<string, any>} changes */
  const put = (changes) => {
    hand.picture = { ...typed, ...hand.picture, ...changes };
    trace();
    book.draw();
  };
  const one = (/** @type {string} */ name) => (/** @type {any} */ value) => put({ [name]: value });
  const drop = html`<${BeginDrop} book=${book} use="picture" accept=${BEGIN_KINDS}
    word=${traced ? "Choose another picture, drop it here or paste it" : "Choose a photograph or a drawing, drop it here or paste it"}
    hint=${traced ? `${traced.name}, ${traced.pixels}` : `PNG, JPEG, WebP, GIF, BMP or TIFF, up to ${book.panel.megabytes} MB`} />`;
  if (!traced) return html`<section class="mk-begin-part">${drop}</section>`;
  const dots = typed.greys === "dots";
  const sides = /** @type {const} */ ([["left", "Left"], ["top", "Top"], ["right", "Right"], ["bottom", "Bottom"]]);
  return html`<section class="mk-begin-part">
    ${drop}
    <div class="mk-begin-figures">
      <${BeginOriginal} book=${book} crop=${typed} put=${put} />
      <div class="mk-begin-now"><p role="status">${traced.said}</p>
        ${traced.changed > 0 && html`<p class="mk-hint">Squares that change are red in the picture before.</p>`}</div>
      <${SquaresPicture} squares=${traced.before} />
      <${SquaresPicture} squares=${traced.after} />
    </div>
    <${BeginFault} said=${hand.refused} />
    <div class="mk-begin-groups">
      <${BeginGroup} word="Size" open>
        <${BeginNumber} label="Stitches" value=${typed.stitches} least=${3} most=${200} step=${1} slide put=${one("stitches")} />
        <${BeginNumber} label="Rows" value=${typed.rows} least=${3} step=${1} empty=${String(traced.rows)} put=${one("rows")}
          hint="Left empty, the picture keeps its proportion." />
      <//>
      <${BeginGroup} word="Dark and light">
        ${!dots && html`<${BeginChoice} label="Threshold" value=${typed.dark} put=${one("dark")}
          options=${[["otsu", "found for the whole picture"], ["adaptive", "by the squares around (uneven light)"],
            ["tone", "set by hand"]]} />`}
        ${!dots && typed.dark === "tone" && html`<${BeginNumber} label="Dark up to" unit="%" value=${typed.tone} least=${0}
          most=${100} step=${1} slide put=${one("tone")} />`}
        ${!dots && html`<${BeginNumber} label="Keep outlines" value=${typed.edges} least=${0} most=${20} step=${0.5} slide
          put=${one("edges")} hint="0 changes the fewest squares; more keeps outlines and clear areas." />`}
        <${BeginChoice} label="Greys" value=${typed.greys} put=${one("greys")}
          options=${[["areas", "areas of dark and light"], ["dots", "dots"]]} />
        <${BeginChoice} label="Row 1" value=${typed.first} put=${one("first")}
          options=${[["better", "the colour that fits better"], ["MC", "MC"], ["CC", "CC"]]} />
        <div class="mk-field"><label class="mk-begin-tick"><input type="checkbox" checked=${Boolean(typed.invert)}
          onChange=${(/** @type {any} */ event) => put({ invert: event.target.checked })} />Invert: light becomes CC</label></div>
      <//>
      <${BeginGroup} word="Crop" four>
        ${sides.map(([name, label]) => html`<${BeginNumber} key=${name} label=${label} unit="%" value=${typed[name]}
          least=${0} most=${99} step=${1} put=${one(name)} />`)}
        <${Button} icon="photograph" word="Whole picture" off=${!sides.some(([name]) => Number(typed[name]))}
          press=${() => put({ left: 0, top: 0, right: 0, bottom: 0 })} />
      <//>
      <details name="mk-begin-groups"><summary>Gauge</summary>
        <${BeginGauge} book=${book} changed=${trace}
          hint="It gives the squares their proportion, and the new design gets it. Leave it empty if you do not know it yet." />
      </details>
    </div>
    <div class="mk-row"><${Button} icon="done" word="Use this picture" main off=${Boolean(hand.refused) && !live.busy}
      press=${() => beginTake(book, "use", beginNumbers(hand.picture ?? typed))} /></div>
  </section>`;
}
