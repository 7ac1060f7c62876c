// @ts-check
/** The panels of what is laid on the picture: the line of text to be set in letters, and the box of stamps. */

import { make } from "./elements.js";
import { folded, list } from "./painter_buttons.js";
import { COUNTED, LETTERINGS } from "./painter_words.js";

/**
 * @typedef {{ name: string, title: string, picture: string, lines: string[] }} StampTile
 * @typedef {{ gallery: StampTile[], folder: { tiles: StampTile[], faults: string[], more: number }, fault: string }} Stamps
 * @typedef {import("./painter_state.js").State} State
 */

const MORE_STAMPS = 24;
/** So long after the last letter that was typed the line is set. */
const TYPED_MS = 150;

export class Chest {
  /** @param {State} state
   * @param {{ inTurn: (does: () => void) => void, take: (name: string, values: Record<string, unknown>) => void,
   *   askStamps: (most: number) => void, toPicture: () => void }} does
   * @param {AbortSignal} signal */
  constructor(state, does, signal) {
    this.state = state;
    this.does = does;
    this.signal = signal;
    /** @type {Record<string, unknown>} */
    this.chosen = {}; // the stamp, as far as what the hand did is done
    this.asked = 0; // how many files of the folder were asked for
    this.typing = 0;
    this.text = make("input", { type: "text", maxLength: 80, autocomplete: "off", spellcheck: false });
    this.choices = LETTERINGS.map(([, label, options]) => list(label, options));
    this.lettering = make("div", { className: "mk-lettering" }, [
      make("label", { className: "mk-line" }, ["Text", this.text]), ...this.choices,
    ]);
    this.stamps = make("div", { className: "mk-stamps" });
    this.preview = make("canvas", { className: "mk-held", hidden: true });
    this.preview.setAttribute("aria-hidden", "true"); // the sentence says what it is
    this.said = make("p", { className: "mk-held-said", role: "status" });
    this.behind = make("p", { className: "mk-hint" });
    this.turned = folded("From behind", [this.behind]);
    this.hint = make("p", { className: "mk-hint", hidden: true }, [
      "Touch the picture, or go there with the arrow keys and press Enter: its row 1, stitch 1 is laid there. What is laid "
      + "stays selected, to be mirrored, turned, moved or cut.",
    ]);
    this.page = make("section", { className: "mk-chest", hidden: true }, [
      this.lettering, this.stamps,
      make("div", { className: "mk-in-hand" }, [this.preview, make("div", {}, [this.said, this.hint])]),
      this.turned,
    ]);
    /** @type {Record<string, unknown>} */
    this.line = this.entered(); // the line of text, likewise
    this.listen();
  }

  listen() {
    const { signal } = this;
    const set = () => {
      window.clearTimeout(this.typing);
      const line = this.entered();
      this.does.inTurn(() => {
        this.line = line;
        this.does.take("lettering", line);
      });
    };
    this.text.addEventListener("input", () => {
      window.clearTimeout(this.typing);
      this.typing = window.setTimeout(set, TYPED_MS);
    }, { signal });
    for (const each of [this.text, ...this.choices]) each.addEventListener("change", set, { signal });
    this.text.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      this.does.toPicture(); // the box is left, so the line is set
    }, { signal });
    signal.addEventListener("abort", () => window.clearTimeout(this.typing));
  }

  /** Show the panel of a tool, if it has one, and take in hand what is chosen there.
   * @param {string} tool */
  show(tool) {
    const letters = tool === "lettering";
    this.page.hidden = !letters && tool !== "stamp";
    if (this.page.hidden) return;
    this.page.setAttribute("aria-label", letters ? "Lettering" : "Stamps");
    this.lettering.hidden = !letters;
    this.stamps.hidden = letters;
    if (letters) this.does.take("lettering", this.line);
    else {
      if (!this.asked) this.ask();
      this.does.take("stamp", this.chosen);
    }
  }

  /** The line of text as it is entered now. */
  entered() {
    const chosen = LETTERINGS.map(([name], at) => {
      const { value } = this.choices[at];
      return [name, COUNTED.has(name) ? Number(value) : value];
    });
    return { text: this.text.value, ...Object.fromEntries(chosen) };
  }

  ask() {
    this.asked += MORE_STAMPS;
    this.does.askStamps(this.asked);
  }

  /** Show what is in hand, in the colours of the lowest row. */
  takeHeld() {
    const { held, sheet } = this.state;
    this.said.textContent = held.said;
    this.said.classList.toggle("mk-fault", held.fault);
    this.behind.textContent = held.behind;
    this.turned.hidden = !held.behind;
    this.hint.hidden = this.preview.hidden = !held.rows;
    if (!held.rows) return;
    const pen = /** @type {CanvasRenderingContext2D} */ (this.preview.getContext("2d"));
    const side = Math.max(1, Math.min(6, Math.floor(2000 / Math.max(held.columns, held.rows))));
    this.preview.width = held.columns * side;
    this.preview.height = held.rows * side;
    this.state.heldCells.forEach((value, at) => {
      pen.fillStyle = sheet.inks[value][sheet.rows - 1];
      pen.fillRect((at % held.columns) * side, Math.floor(at / held.columns) * side, side, side);
    });
  }

  /** @param {Stamps} stamps */
  takeStamps({ gallery, folder, fault }) {
    if (!gallery) return;
    const parts = [];
    if (folder.tiles.length) parts.push(...this.wall("In the folder", "folder", folder.tiles));
    if (folder.more) {
      const more = make("button", { type: "button" }, [`Show more files (${folder.more} are left)`]);
      more.addEventListener("click", () => this.ask(), { signal: this.signal });
      parts.push(more);
    }
    parts.push(...[...folder.faults, fault].filter(Boolean).map((each) => make("p", { className: "mk-fault" }, [each])));
    parts.push(...this.wall("Gallery", "gallery", gallery));
    this.stamps.replaceChildren(...parts);
  }

  /** Stamps side by side, under a heading.
   * @param {string} heading @param {string} place @param {StampTile[]} tiles */
  wall(heading, place, tiles) {
    const list = make("div", { className: "mk-stamp-wall", role: "group" }, tiles.map((tile) => this.tile(place, tile)));
    list.setAttribute("aria-label", heading);
    return [make("strong", {}, [heading]), list];
  }

  /** @param {string} place @param {StampTile} tile */
  tile(place, { name, title, picture, lines }) {
    const drawn = make("span", { className: "mk-stamp-picture" });
    drawn.innerHTML = picture; // made by mosaickit's own svg module, which escapes all text
    drawn.setAttribute("aria-hidden", "true");
    drawn.querySelector("title")?.remove();
    const made = make("button", { type: "button", title: lines.join(", ") }, [drawn, make("span", {}, [title])]);
    const here = () => this.chosen.place === place && this.chosen.name === name;
    made.setAttribute("aria-pressed", String(here()));
    made.addEventListener("click", () => {
      this.does.inTurn(() => {
        this.chosen = { place, name };
        for (const each of this.stamps.querySelectorAll("button[aria-pressed]"))
          each.setAttribute("aria-pressed", String(each === made));
        this.does.take("stamp", this.chosen);
      });
      this.does.toPicture();
    }, { signal: this.signal });
    return made;
  }
}
