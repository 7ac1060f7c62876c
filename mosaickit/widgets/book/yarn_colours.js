// @ts-check
/** The yarns: name and colour of each, from which row on each is used, and the pairs that meet. */

import { Button } from "./controls.js";
import { html } from "./kit.js";
import { PressedBox } from "./yarn_box.js";

/**
 * @typedef {import("./state.js").BookState} BookState
 * @typedef {{ name: string, colour: string }} YarnShown
 * @typedef {{ role: string, word: string, changes: { row: number, yarn: number }[] }} RoleShown
 * @typedef {{ word: string, said: string, advice: string,
 *   seen: { word: string, mc: string, cc: string, ratio: string }[] }} PairShown
 */

/** @param {{ book: BookState }} given */
function YarnNames({ book }) {
  const { yarns, twice } = book.panel.colours;
  return html`<section class="mk-yarn-part">
    <h3>Yarns</h3>
    ${yarns.map((/** @type {YarnShown} */ yarn, /** @type {number} */ at) => html`<div class="mk-yarn-line" key=${at}>
      <${PressedBox} book=${book} id=${`colour-${at}`} kind="color" label=${`Colour of ${yarn.name}`} value=${yarn.colour}
        name="yarn" values=${{ was: yarn }} of="colour" />
      <${PressedBox} book=${book} id=${`name-${at}`} kind="text" label=${`Name of ${yarn.name}`} value=${yarn.name}
        name="yarn" values=${{ was: yarn }} of="name" />
    </div>`)}
    ${twice.map((/** @type {string} */ name) => html`<p class="mk-hint" key=${name}>Two yarns are called ${name}: they share
      one skein and one price.</p>`)}
  </section>`;
}

/** A choice among the yarns and a new one.
 * @param {{ yarns: YarnShown[], label: string, value: number | "new", choose: (yarn: any) => void }} given */
function YarnChoice({ yarns, label, value, choose }) {
  return html`<select aria-label=${label} value=${String(value)} onChange=${(/** @type {any} */ event) =>
      choose(event.target.value === "new" ? "new" : yarns[Number(event.target.value)])}>
    ${yarns.map(({ name, colour }, at) => html`<option key=${at} value=${String(at)}>${
      yarns.some((each, other) => other !== at && each.name === name) ? `${name} (${colour})` : name}</option>`)}
    <option value="new">a new yarn</option>
  </select>`;
}

/** @param {{ book: BookState, role: RoleShown }} given */
function Changes({ book, role }) {
  const { yarns, rows } = book.panel.colours;
  const key = `add-${role.role}`;
  const draft = /** @type {any} */ (book.local.get(key)) ?? { row: "", yarn: "new" };
  /** @param {Record<string, any>} part */
  const set = (part) => {
    book.local.set(key, { ...draft, ...part });
    book.draw();
  };
  const add = async () => {
    const row = draft.row === "" ? null : Number(draft.row);
    const answer = await book.do("add", { role: role.role, row, yarn: draft.yarn });
    if (!answer.error) set({ row: "" });
  };
  const chosen = draft.yarn === "new" ? "new" : yarns.findIndex((/** @type {YarnShown} */ each) =>
    each.name === draft.yarn.name && each.colour === draft.yarn.colour);
  if (chosen === -1) draft.yarn = "new"; // it has another name or colour by now
  return html`<fieldset class="mk-yarn-role">
    <legend>${role.word}</legend>
    ${role.changes.map(({ row, yarn }) => html`<div class="mk-yarn-line" key=${row}>
      <span class="mk-yarn-from">from row ${row}</span>
      <span class="mk-ink" style=${{ background: yarns[yarn].colour }}></span>
      <${YarnChoice} yarns=${yarns} label=${`${role.role} from row ${row}`} value=${yarn}
        choose=${(/** @type {any} */ to) => book.do("use", { role: role.role, row, yarn: to })} />
      ${row > 1 && html`<${Button} icon="remove" word="Remove" hint=${`Remove the change of ${role.role} at row ${row}`}
        press=${() => book.do("remove", { role: role.role, row })} />`}
    </div>`)}
    ${rows > 1 && html`<div class="mk-yarn-line mk-yarn-add">
      <label class="mk-yarn-from">from row
        <input type="number" inputmode="numeric" min="2" max=${rows} value=${draft.row}
          aria-label=${`Row at which ${role.role} changes`}
          onInput=${(/** @type {any} */ event) => set({ row: event.target.value })} /></label>
      <${YarnChoice} yarns=${yarns} label=${`Yarn that ${role.role} changes to`} value=${chosen === -1 ? "new" : chosen}
        choose=${(/** @type {any} */ yarn) => set({ yarn })} />
      <${Button} icon="begin" word="Add a change" hint=${`Let ${role.role} change at this row`} off=${draft.row === ""}
        press=${add} />
    </div>`}
  </fieldset>`;
}

/** @param {{ pair: PairShown }} given */
function Pair({ pair }) {
  return html`<div class="mk-yarn-pair">
    <p><strong>${pair.word}.</strong> ${pair.said}</p>
    ${pair.advice && html`<p class="mk-yarn-mind">${pair.advice}</p>`}
    <ul>${pair.seen.map(({ word, mc, cc, ratio }) => html`<li key=${word}>
      <span class="mk-yarn-both" aria-hidden="true"><span style=${{ background: mc }}></span><span
        style=${{ background: cc }}></span></span>
      <span>${word}</span><span>${ratio}</span></li>`)}</ul>
  </div>`;
}

/** @param {{ book: BookState }} given */
export function YarnColours({ book }) {
  const { roles, counted, contrast } = book.panel.colours;
  return html`<div class="mk-yarn-colours mk-yarn-named">
      <${YarnNames} book=${book} />
      <section class="mk-yarn-part">
      <h3>Where each is used</h3>
      ${roles.map((/** @type {RoleShown} */ role) => html`<${Changes} key=${role.role} book=${book} role=${role} />`)}
      ${counted && html`<p class="mk-hint">${counted}</p>`}
      </section>
    </div>
    <section>
      <h3>Yarns that meet, and how they are seen</h3>
      <div class="mk-yarn-colours">${contrast.pairs.map((/** @type {PairShown} */ pair) =>
        html`<${Pair} key=${pair.word + pair.said} pair=${pair} />`)}</div>
      ${contrast.more && html`<p class="mk-hint">${contrast.more}</p>`}
    </section>`;
}
