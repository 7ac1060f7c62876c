// @ts-check
/** The editions of the design: one is kept with a line of what changed, opened again, or compared with what is now. */

import { Button } from "./controls.js";
import { html } from "./kit.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ number: number, date: string, changed: string, summary: string, same: boolean }} EditionWords
 */

/** Press something of an edition; why it was not done stands beside it.
 * @param {BookState} book @param {"keep" | "open" | "compare"} name @param {Record<string, any>} values */
async function pressEdition(book, name, values) {
  book.local.set("words-edition", { pressed: name, ...values });
  const { error, said, number } = await book.send({ kind: "do", panel: "words", name, values });
  if (name === "keep" && !error) book.local.delete("words-changed");
  book.local.set("words-edition", { error, said, number });
  book.draw();
}

/** What differs between an edition and the design now, beneath that edition.
 * @param {{ said: string[] }} given */
function Compared({ said }) {
  return html`<div class="mk-words-compared" role="status"><p>From this edition to the design now:</p>
    <ul>${said.map((line) => html`<li>${line}</li>`)}</ul></div>`;
}

/** @param {{ book: BookState }} given */
export function Editions({ book }) {
  /** @type {EditionWords[]} */
  const editions = book.panel.editions;
  const { pressed, error, said, number: about } = book.local.get("words-edition") ?? {};
  const draft = book.local.get("words-changed") ?? "";
  const keep = () => {
    if (!pressed) pressEdition(book, "keep", { changed: book.local.get("words-changed") ?? "" });
  };
  const id = `${book.link.view}-changed`;
  return html`<section class="mk-words-part">
    <h3>Editions</h3>
    <p class="mk-hint">An edition keeps the design as it is now, in the design's own file. Later you can open it again.</p>
    <div class="mk-row mk-words-keep">
      <div class="mk-field mk-words-line"><label for=${id}>What changed</label>
        <input type="text" id=${id} maxlength=${book.panel.most} value=${draft}
          onInput=${(/** @type {any} */ event) => book.local.set("words-changed", event.target.value)}
          onKeyDown=${(/** @type {KeyboardEvent} */ event) => event.key === "Enter" && keep()} /></div>
      <${Button} icon="save" word="Keep an edition" press=${keep} />
    </div>
    ${error && html`<p class="mk-fault" role="status">${error}</p>`}
    ${editions.length > 0 && html`<ol class="mk-words-editions">
      ${[...editions].reverse().map(({ number, date, changed, summary, same }) => html`<li key=${number}>
        <div class="mk-words-about"><strong>Edition ${number}</strong> <time datetime=${date}>${date}</time>
          <p>${changed}</p><p class="mk-hint">${same ? "This is the design now." : summary}</p></div>
        ${!same && html`<div class="mk-row" role="group" aria-label=${`Edition ${number}`}>
          <${Button} icon="open" word="Open" hint=${`Go on with edition ${number}`} press=${() => pressEdition(book, "open", { number })} />
          <${Button} word=${pressed === "compare" && about === number ? "Comparing…" : "Compare with now"} off=${!!pressed} hint=${`What differs from edition ${number}`} press=${() => pressEdition(book, "compare", { number })} /></div>`}
        ${said && about === number && html`<${Compared} said=${said} />`}
      </li>`)}</ol>`}
  </section>`;
}
