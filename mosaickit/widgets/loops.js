// @ts-check
/**
 * Squares to touch, and the column below the one that was touched. What a square is made by, why it cannot be worked,
 * pictures, sentences and numbers all come from Python, where squares are changed too; the page knows only where each
 * one lies. Squares are numbered as seen, row by row from the top left.
 */

import { Link } from "./link.js";
import { obeyTouch } from "./loops_hand.js";
import { LoopsPage } from "./loops_page.js";

/**
 * @typedef {import("./loops_page.js").Look} Look
 * @typedef {import("./loops_page.js").Shown} Shown
 */

const SILENT =
  "Not connected to Python: the picture cannot be changed here. In a notebook, run the cell again to go on.";

/** What was sent beforehand about a square; null if Python has to be asked.
 * @param {Pick<Shown, "looks">} shown @param {number} square
 * @returns {Look | null} */
export function lookOf({ looks }, square) {
  if (!looks) return null;
  const [said, picture] = looks.of[square];
  return { said: looks.said[said], ...looks.pictures[picture] };
}

class Loops {
  /** @param {any} model */
  constructor(model) {
    this.model = model;
    /** @type {{ looks: import("./loops_page.js").Looks } | undefined} */
    this.alone = model.get("offline"); // what was laid out where there is no Python
    this.page = new LoopsPage(this.shown, !this.alone);
    this.chosen = this.focus = this.shown.start;
    /** @type {{ seq: number, square: number } | null} */
    this.asked = null; // the look that Python was asked for last
    this.link = new Link(model, { hears: (answer) => this.hear(answer), changes: () => this.showTrouble() });
    this.begin();
  }

  /** @returns {Shown} */
  get shown() {
    const shown = this.model.get("shown");
    return this.alone ? { ...shown, looks: this.alone.looks } : shown;
  }

  get cells() {
    return this.page.cells;
  }

  begin() {
    this.chosen = this.focus = this.page.shown.start;
    this.page.layOut();
    this.page.paint();
    this.touch(this.chosen);
    requestAnimationFrame(() => this.page.reveal(this.chosen)); // not before it has a size
  }

  // ---- touching -------------------------------------------------------------------------------------------

  /** @param {number} square */
  touch(square) {
    this.chosen = square;
    this.moveTo(square);
    this.page.choose(square);
    const look = lookOf(this.page.shown, square);
    if (look) this.page.tell(square, look);
    else this.asked = { seq: this.link.send({ kind: "look", square }), square };
  }

  /** @param {number} square */
  moveTo(square) {
    this.focus = square;
    this.page.moveTo(square);
  }

  /** @param {number} square */
  change(square) {
    if (this.alone) return;
    this.chosen = square;
    this.cells[square].classList.add("mk-asked"); // until Python has answered
    this.link.send({ kind: "change", square });
  }

  // ---- talking to Python ----------------------------------------------------------------------------------

  showTrouble() {
    const { banner } = this.page;
    banner.textContent = SILENT;
    banner.hidden = this.link.connected;
    if (!this.link.connected) this.page.paint(); // nothing is being changed
  }

  /** @param {any} answer */
  hear(answer) {
    this.showTrouble();
    const waited = this.asked?.seq === answer.seq && this.asked?.square === this.chosen;
    if (answer.look && waited) this.page.tell(this.chosen, answer.look);
    if (answer.error) {
      this.page.said.textContent = answer.error;
      this.page.paint();
    }
  }

  follow() {
    const { rows, columns, edge } = this.page.shown;
    const { shown } = this;
    this.page.shown = shown;
    if (rows !== shown.rows || columns !== shown.columns || edge !== shown.edge) {
      this.begin();
      return;
    }
    const held = this.focus; // the hand may have moved on since
    this.page.paint();
    this.touch(this.chosen);
    this.moveTo(held);
  }
}

/** @param {{ model: any, el: HTMLElement }} given */
function render({ model, el }) {
  const listening = new AbortController();
  const view = new Loops(model);
  el.append(view.page.frame);
  obeyTouch(view, view.page, listening.signal);
  const follow = () => view.follow();
  model.on("change:shown", follow);
  return () => {
    listening.abort();
    view.link.end();
    model.off("change:shown", follow);
  };
}

export default { render };
