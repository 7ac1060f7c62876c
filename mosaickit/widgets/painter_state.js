// @ts-check
/**
 * What the painter's page knows: Python's last picture, on top of it all that the hand did since, and what the hand holds.
 *
 * Nothing of the craft is known here. Which colour a square would have, which squares are to be hatched, what is the
 * matter with them, how they are numbered and which squares follow the hand: all of it comes from Python.
 */

import { BETWEEN, drawnWith, growingStroke } from "./painter_squares.js";
import { LAYS } from "./painter_words.js";

/**
 * @typedef {import("./painter_squares.js").Box} Box
 * @typedef {import("./painter_squares.js").Follow} Follow
 * @typedef {import("./painter_squares.js").Square} Square
 *
 * @typedef {{
 *   rows: number, columns: number,
 *   row_numbers: number[], stitch_numbers: number[], edge: "left" | "right",
 *   heavy_rows: number[], heavy_columns: number[],
 *   inks: [string[], string[]], row_inks: string[], roles: [string, string],
 *   contrast: string,
 *   aspect: number,
 * }} Sheet
 * `aspect` is a square's width over its height.
 *
 * @typedef {{ rule: string, severity: string, said: string, why: string, off: boolean,
 *   places: { message: string, square: number }[], more: string }} Kind
 * All findings of one rule; the first places are listed.
 *
 * @typedef {{
 *   summary: string, findings: Kind[], errors: number, undo: string, redo: string,
 *   corner: Square | null, preview: string, note: string, trouble: string, only_workable: boolean, mirror: boolean, "up-down": boolean,
 *   "half-turn": boolean, across: number, up: number, hand: string,
 * }} Said
 *
 * @typedef {{ rows: number, columns: number, row_is_cc: boolean[], corner: Square, said: string, fault: boolean,
 *   behind: string }} Held
 * What is in hand to be laid on the picture: of no size if there is nothing. `corner` is the square of it that is laid
 * where the hand is.
 *
 * @typedef {(cells: Uint8Array) => number[][]} Gesture
 * What the hand did, told as squares in the hand's order, each [x, y, colour], given the picture it was done on.
 *
 * @typedef {{ tool: string, colour: number, start: Square, last: Square, squares: number[][], under: Uint8Array,
 *   growing: ReturnType<typeof growingStroke> }} Stroke
 * @typedef {{ from: Box, grasped: Square, by: [number, number] }} Carried
 * A selection on its way, where the hand grasped it, and how far it has come.
 */

/** What Python sent as bytes, as a Uint8Array of its own, whatever the notebook wraps it in.
 * @param {any} sent @returns {Uint8Array} */
export function bytesOf(sent) {
  if (!sent) return new Uint8Array(0);
  return new Uint8Array(sent.buffer ?? sent, sent.byteOffset ?? 0, sent.byteLength).slice();
}

export class State {
  /** @param {any} model */
  constructor(model) {
    this.model = model;
    this.base = bytesOf(model.get("cells")); // Python's picture
    this.cells = this.base.slice(); // and what the hand did since on top of it; 0 is MC, 1 is CC
    this.marks = bytesOf(model.get("marks"));
    this.ghost = bytesOf(model.get("ghost"));
    /** @type {Sheet} */ this.sheet = model.get("sheet");
    /** @type {Follow} */ this.follow = model.get("follow");
    /** @type {Said} */ this.said = model.get("said");
    /** @type {{ number: number, gesture: Gesture, keepsCorner: boolean }[]} */
    this.unanswered = [];
    /** @type {Square | null} */
    this.cornerHeard = this.said.corner; // the first corner set by keyboard, as Python knows it
    /** @type {Square | null} */
    this.corner = this.cornerHeard; // and after what the hand did since
    /** @type {Held} */ this.held = model.get("held"); // what is in hand to be laid, as Python says
    this.heldCells = bytesOf(model.get("held_cells"));
    /** @type {Held | null} */
    this.inHand = null; // the same while nothing else was taken since, and null if there is nothing

    this.tool = "brush";
    this.colour = 1;
    // focus and selection stay where the hand put them; where the picture has become smaller they are drawn inside it
    /** @type {Square} */
    this.focus = [this.sheet.edge === "right" ? this.sheet.columns - 1 : 0, this.sheet.rows - 1];
    /** @type {Stroke | null} */ this.stroke = null;
    /** @type {Box | null} */ this.selection = null;
    /** @type {Square | null} */ this.selecting = null; // where the hand began to select
    /** @type {{ width: number, height: number, cells: Uint8Array } | null} */ this.copied = null;
    /** @type {Carried | null} */ this.carried = null;
    this.laying = false; // the pointer is down, to lay what is in hand
  }

  /** Whether the hand has the picture in hand: what else is pressed waits until it lets go. */
  get busy() {
    return this.stroke !== null || this.carried !== null || this.selecting !== null || this.laying;
  }

  /** The square in focus: the nearest one where the picture has become smaller.
   * @returns {Square} */
  get here() {
    return [Math.min(this.focus[0], this.sheet.columns - 1), Math.min(this.focus[1], this.sheet.rows - 1)];
  }

  /** The part of the selection that is in the picture.
   * @returns {Box | null} */
  get selected() {
    const { rows, columns } = this.sheet;
    if (!this.selection) return null;
    const [x0, y0, x1, y1] = this.selection;
    if (x0 >= columns || y0 >= rows || x1 < 0 || y1 < 0) return null;
    return [Math.max(0, x0), Math.max(0, y0), Math.min(x1, columns - 1), Math.min(y1, rows - 1)];
  }

  /** Whether a square is in the picture.
   * @param {number} x @param {number} y */
  holds(x, y) {
    return x >= 0 && y >= 0 && x < this.sheet.columns && y < this.sheet.rows;
  }

  /** A stroke that has painted nothing yet. */
  growing() {
    return growingStroke(this.follow, this.sheet.columns, this.sheet.rows);
  }

  /** Take over Python's picture.
   * @param {number} heard the last message that is in it */
  takeOver(heard) {
    this.unanswered = this.unanswered.filter((each) => each.number > heard);
    this.base = bytesOf(this.model.get("cells"));
    this.marks = bytesOf(this.model.get("marks"));
    this.ghost = bytesOf(this.model.get("ghost"));
    this.follow = this.model.get("follow");
    this.sheet = this.model.get("sheet");
    this.cornerHeard = this.model.get("said").corner;
    this.held = this.model.get("held");
    this.heldCells = bytesOf(this.model.get("held_cells"));
  }

  /** The squares of what is in hand, laid where the focus is: its colours are swapped where its rows are in the other
   * ones.
   * @returns {number[][]} */
  get laidHere() {
    const { held, heldCells, follow } = this;
    const swapped = Number(follow.row_is_cc[this.here[1]] !== held.row_is_cc[held.corner[1]]);
    const [left, top] = this.layingAt;
    return Array.from(heldCells, (value, at) => [
      left + (at % held.columns), top + Math.floor(at / held.columns), value ^ swapped,
    ]);
  }

  /** Where what is in hand would be laid, the part of it that is in the picture.
   * @returns {Box | null} */
  get layingBox() {
    if (!this.inHand || !LAYS.has(this.tool)) return null;
    const [x, y] = this.layingAt;
    return [
      Math.max(x, 0), Math.max(y, 0),
      Math.min(x + this.held.columns, this.sheet.columns) - 1, Math.min(y + this.held.rows, this.sheet.rows) - 1,
    ];
  }

  /** Where the upper left corner of what is in hand would be.
   * @returns {Square} */
  get layingAt() {
    const [x, y] = this.here;
    return [x - this.held.corner[0], y - this.held.corner[1]];
  }

  /** What would be drawn if the keyboard set the second corner where the focus is, or laid what is in hand there:
   * colours by number of square.
   * @returns {Map<number, number>} */
  plan() {
    const { corner, tool, colour } = this;
    if (this.layingBox) {
      const growing = this.growing();
      growing.add(this.laidHere);
      return growing.painted;
    }
    if (!corner || !BETWEEN.has(tool)) return new Map();
    const growing = this.growing();
    growing.add(drawnWith(tool, corner, this.here, colour));
    return growing.painted;
  }

  /** Begin with Python's picture again, and do on it what the hand did since. */
  layUnheard() {
    this.cells = this.base.slice();
    this.corner = this.cornerHeard;
    for (const { gesture, keepsCorner } of this.unanswered) {
      if (!keepsCorner) this.corner = null;
      const growing = this.growing();
      growing.add(gesture(this.cells));
      for (const [index, value] of growing.painted) this.cells[index] = value;
    }
    if (!this.stroke) return;
    this.stroke.under = this.cells.slice();
    this.stroke.growing = this.growing();
    this.stroke.growing.add(this.stroke.squares);
    for (const [index, value] of this.stroke.growing.painted) this.cells[index] = value;
  }
}
