// @ts-check
/** The workbook's page: the steps of the job at one side, the work in the middle, the ledger at the other side. */

import { BeginPage } from "./begin.js";
import { Button, Icon, SquaresPicture } from "./controls.js";
import { html, useLayoutEffect, useRef } from "./kit.js";
import { LayPage } from "./lay.js";
import { LookPage } from "./look.js";
import { ManyPage } from "./many.js";
import { PicturePage } from "./picture.js";
import { SharePage } from "./share.js";
import { VaryPage } from "./vary.js";
import { WordsPage } from "./words.js";
import { YarnPage } from "./yarn.js";

/** @typedef {import("./state.js").BookState} BookState */

/** @type {Record<string, (given: { book: BookState }) => any>} */
const PAGES = {
  begin: BeginPage,
  picture: PicturePage,
  lay: LayPage,
  vary: VaryPage,
  many: ManyPage,
  yarn: YarnPage,
  look: LookPage,
  words: WordsPage,
  share: SharePage,
};

/** @param {{ book: BookState }} given */
function Head({ book }) {
  const { title, kept, trouble, undo, redo } = book.head;
  return html`<div class="mk-book-head">
    <h2>${title}</h2>
    <span class=${trouble ? "mk-fault" : "mk-kept"} role="status">${kept}</span>
    <${Button} icon="undo" word="Undo" off=${!undo} hint=${undo ? `Undo: ${undo}` : "Nothing to undo"}
      press=${() => book.press("undo")} />
    <${Button} icon="redo" word="Redo" off=${!redo} hint=${redo ? `Redo: ${redo}` : "Nothing to redo"}
      press=${() => book.press("redo")} />
  </div>`;
}

/** @param {{ book: BookState }} given */
function Steps({ book }) {
  const { panels, open } = book.head;
  return html`<nav class="mk-steps" aria-label="Steps of the job">
    ${panels.map(({ name, word, hint }) => html`<button key=${name} type="button" title=${hint}
      aria-current=${name === open ? "step" : null} onClick=${() => book.open(name)}>
      <${Icon} name=${name} /><span class="mk-word">${word}</span></button>`)}
  </nav>`;
}

/** @param {{ book: BookState }} given */
function LedgerPage({ book }) {
  const hand = !book.alone; // whether what is pressed would be done
  const { counts, size, inches, wrong, advice, yarns, faces, note } = book.ledger;
  return html`<aside class="mk-ledger" aria-label="The design in figures">
    <h3>Size</h3>
    ${size && html`<p class="mk-figure">${size}</p>`}
    <p>${inches && `${inches} · `}${counts}</p>
    ${wrong && html`<div class="mk-wrong" role="status">
      <strong><${Icon} name="wrong" />${wrong.said}</strong>
      <p>${wrong.why}</p>
      ${hand && html`<span class="mk-row">${wrong.where === "picture"
        ? html`<${Button} icon="picture" word="Show" press=${() => book.open("picture")} hint="Open the picture, where they are marked" />
          <${Button} icon="mend" word="Mend" press=${() => book.press("mend")} hint="Change the fewest squares that help" />`
        : html`<${Button} icon="lay" word="See what helps" press=${() => book.open("lay")}
          hint="The picture can be worked, but not as it is laid" />`}</span>`}
    </div>`}
    ${advice.map(({ kind, said, why }) => html`<details key=${kind} class="mk-advice">
      <summary><${Icon} name="advice" />${said}</summary><p>${why}</p></details>`)}
    ${yarns.length > 0 && html`<h3>Yarn</h3>`}
    ${yarns.map(({ name, colour, metres, band, skeins }) => html`<div key=${`${name}${colour}`} class="mk-ledger-yarn">
      <span class="mk-ink" style=${{ background: colour }}></span><span>${name}</span><strong>${metres}</strong>
      <small>${[skeins, band].filter(Boolean).join(" · ")}</small></div>`)}
    ${note && html`<p>${note}</p>`}
    ${!size && hand && html`<${Button} icon="size" word="Enter the gauge" press=${() => book.open("yarn")} />`}
    ${faces.length > 0 && html`<h3>${faces.length > 1 ? "Both faces" : "Front"}</h3>`}
    <div class="mk-faces">${faces.map((each) => html`<${SquaresPicture} key=${each.word} squares=${each} />`)}</div>
  </aside>`;
}

/** What came of the last thing that was pressed, or why it was not done.
 * @param {{ book: BookState }} given */
function Said({ book }) {
  if (!book.link.connected) {
    return html`<p class="mk-said mk-fault" role="alert">${book.link.lost
      ? "Not connected to Python: nothing done now would be kept. Run the cell again to go on."
      : "Python is busy. What you do is kept here in order, and done when Python answers."}</p>`;
  }
  const error = book.local.get("error");
  return html`<p class=${error ? "mk-said mk-fault" : "mk-said"} role="status">${error || book.said}</p>`;
}

/** The design where there is no Python: its figures and faces, and nothing to press.
 * @param {{ book: BookState }} given */
export function PageAlone({ book }) {
  return html`<div class="mk-book mk-book-alone">
    <div class="mk-book-head"><h2>${book.head.title}</h2></div>
    <${LedgerPage} book=${book} />
  </div>`;
}

/** @param {{ book: BookState }} given */
export function Page({ book }) {
  const { open, panels } = book.head;
  const about = panels.find(({ name }) => name === open);
  const Open = PAGES[open];
  const scroll = useRef(/** @type {HTMLElement | null} */ (null));
  const work = useRef(/** @type {HTMLElement | null} */ (null));
  const keys = useRef(/** @type {any} */ (null)); // what had the keyboard last
  useLayoutEffect(() => {
    if (scroll.current) scroll.current.scrollTop = 0; // another panel is read from its beginning
  }, [open]);
  useLayoutEffect(() => {
    const last = keys.current;
    if (!last || (last.isConnected && !last.disabled)) return;
    keys.current = null;
    if (![last, document.body].includes(document.activeElement)) return;
    // what was pressed is gone or can be pressed no more, and the keys would reach the notebook, where they delete cells
    const beside = last.isConnected && last.parentElement?.querySelector("button:not(:disabled)");
    (beside || work.current)?.focus({ preventScroll: true });
  });
  return html`<div class="mk-book" data-lm-suppress-shortcuts="true"
    onFocusIn=${(/** @type {any} */ event) => { keys.current = event.target; }}>
    <${Head} book=${book} />
    <div class="mk-book-body">
      <${Steps} book=${book} />
      <div class="mk-book-scroll" ref=${scroll}><section class=${`mk-work mk-${open}`} aria-label=${about?.word}
        tabindex="-1" ref=${work}>
        ${book.panel.trouble ? html`<p class="mk-fault">${book.panel.trouble}</p>` : html`<${Open} key=${open} book=${book} />`}
        <${Said} book=${book} />
      </section>
      <${LedgerPage} book=${book} /></div>
    </div>
  </div>`;
}
