// @ts-check
/** The wall itself, on which keys and pointer pick a variant, and beside it the one that is picked. */

import { make } from "./elements.js";
import { pressOf } from "./explorer_bar.js";
import { acrossOf, placeAfter } from "./wall_places.js";

/**
 * @typedef {import("./explorer_hands.js").ExplorerHand} ExplorerHand
 * @typedef {import("./explorer_hands.js").Tile} Tile
 */

export class ExplorerWall {
  /** @param {any} model @param {ExplorerHand} hand */
  constructor(model, hand) {
    this.model = model;
    this.hand = hand;
    this.page = make("div", { className: "mk-wall", role: "listbox", "aria-label": "Variants" });
    this.page.addEventListener("keydown", (event) => this.obey(event));
  }

  /** The key of the variant that is picked, as tiles hold it. */
  get picked() {
    return String(this.model.get("picked"));
  }

  get tiles() {
    return /** @type {HTMLElement[]} */ ([...this.page.children]);
  }

  /** Hang all variants, in the order in which they come. */
  hang() {
    const inFocus = this.page.contains(document.activeElement);
    this.page.replaceChildren(...this.model.get("tiles").map((/** @type {Tile} */ tile) => this.tileOf(tile)));
    this.mark();
    if (inFocus) this.focusPicked();
  }

  /** @param {Tile} tile */
  tileOf({ key, picture, name, about }) {
    const words = `${key + 1}. ${name}`;
    const node = make("div", {
      className: "mk-tile", role: "option", "data-key": String(key), title: about, "aria-label": `${words}: ${about}`,
    });
    node.innerHTML = picture; // squares, made by Python
    node.append(make("span", { textContent: words }));
    node.addEventListener("click", () => this.pick(key));
    return node;
  }

  /** Mark which variants are picked and pinned. */
  mark() {
    const pinned = this.model.get("pinned").map(String);
    for (const tile of this.tiles) {
      const here = tile.dataset.key === this.picked;
      tile.setAttribute("aria-selected", String(here));
      tile.tabIndex = here ? 0 : -1;
      tile.classList.toggle("mk-pinned", pinned.includes(tile.dataset.key ?? ""));
    }
  }

  /** @param {number} key */
  pick(key) {
    this.hand.pick(key);
    this.mark();
  }

  focusPicked() {
    const node = this.tiles.find((tile) => tile.dataset.key === this.picked);
    node?.focus();
    node?.scrollIntoView({ block: "nearest" });
  }

  /** @param {KeyboardEvent} event */
  obey(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || event.key === "Tab") return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    const { tiles } = this;
    const place = tiles.findIndex((tile) => tile.dataset.key === this.picked);
    const next = placeAfter(event.key, Math.max(place, 0), tiles.length, acrossOf(tiles));
    const what = pressOf(event.key);
    if (next !== place) {
      event.preventDefault();
      this.pick(Number(tiles[next].dataset.key));
      this.focusPicked();
    } else if (what) this.hand.press(what);
  }
}

/** The variant that is picked: both faces, its repeat, and its figures in words. */
export class ExplorerPreview {
  /** @param {any} model */
  constructor(model) {
    this.model = model;
    this.page = make("div", { className: "mk-preview" });
  }

  show() {
    const { faces, repeat, about } = this.model.get("preview");
    this.page.innerHTML = `<div class="mk-faces">${faces}</div><div class="mk-repeat">${repeat}</div>`; // made by Python
    this.page.append(make("p", { textContent: about }));
  }
}
