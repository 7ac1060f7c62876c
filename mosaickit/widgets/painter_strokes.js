// @ts-check
/** Strokes of the hand: drawn at once, and told to Python when the hand lets go. */

import { BETWEEN, drawnWith, fillSquares } from "./painter_squares.js";

/**
 * @typedef {import("./painter_drawing.js").Drawing} Drawing
 * @typedef {import("./painter_squares.js").Square} Square
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_talk.js").Talk} Talk
 */

/** The tools that paint. */
export const PAINTS = new Set(["brush", "fill", ...BETWEEN]);

export class Strokes {
  /** @param {State} state @param {Drawing} drawing @param {Talk} talk */
  constructor(state, drawing, talk) {
    this.state = state;
    this.drawing = drawing;
    this.talk = talk;
  }

  /** @param {Square} at */
  setFocus(at) {
    this.state.focus = at;
    this.drawing.drawFocus();
    this.talk.ask();
  }

  /** Begin a stroke that has painted nothing yet.
   * @param {Square} at */
  start(at) {
    const { state } = this;
    const { tool, colour } = state;
    state.stroke = {
      tool, colour, start: at, last: at, squares: [], under: state.cells.slice(), growing: state.growing(),
    };
  }

  /** Paint on with the stroke in hand.
   * @param {number[][]} squares each [x, y, colour] */
  paint(squares) {
    const { stroke } = this.state;
    if (!stroke) return;
    for (const square of squares) stroke.squares.push(square); // a fill has more than one call takes as arguments
    for (const index of stroke.growing.add(squares)) this.drawing.put(index, stroke.growing.painted.get(index) ?? 0);
  }

  /** Take back what the stroke in hand painted, and let it paint something else.
   * @param {number[][]} squares */
  repaint(squares) {
    const { stroke } = this.state;
    if (!stroke) return;
    const before = stroke.growing.painted;
    stroke.squares = squares;
    stroke.growing = this.state.growing();
    stroke.growing.add(squares);
    for (const index of before.keys())
      if (!stroke.growing.painted.has(index)) this.drawing.put(index, stroke.under[index]);
    for (const [index, value] of stroke.growing.painted) this.drawing.put(index, value);
  }

  /** @param {Square} at */
  begin(at) {
    const { tool, colour, cells, sheet } = this.state;
    this.start(at);
    if (tool === "fill") this.paint(fillSquares(cells, sheet.columns, ...at).map(([x, y]) => [x, y, colour]));
    else this.paint([[...at, colour]]);
  }

  /** @param {Square} at */
  goOn(at) {
    const { stroke } = this.state;
    if (!stroke || stroke.tool === "fill") return;
    if (stroke.tool === "brush") this.paint(drawnWith("line", stroke.last, at, stroke.colour));
    else this.repaint(drawnWith(stroke.tool, stroke.start, at, stroke.colour));
    stroke.last = at;
  }

  /** Let go of the brush: tell Python what it painted. */
  end() {
    if (!this.state.stroke) return;
    const { tool, colour, start, last, squares } = this.state.stroke;
    this.state.stroke = null;
    if (tool === "fill") {
      this.talk.tell({ kind: "paint", tool, colour }, (on) => this.filled(on, start, colour), [start]);
    } else {
      const seen = new Set();
      const named = tool === "box" || tool === "ellipse" ? [start, last] : squares.filter(([x, y]) => !seen.has(`${x},${y}`) && seen.add(`${x},${y}`));
      this.talk.tell({ kind: "paint", tool, colour }, () => squares, named.map(([x, y]) => [x, y]));
    }
  }

  /** What a fill paints; nothing where the picture has become smaller.
   * @param {Uint8Array} on @param {Square} at @param {number} ink @returns {number[][]} */
  filled(on, at, ink) {
    const { rows, columns } = this.state.sheet;
    if (at[0] >= columns || at[1] >= rows) return [];
    return fillSquares(on, columns, ...at).map(([x, y]) => [x, y, ink]);
  }

  /** Take the stroke in hand back. */
  drop() {
    const { stroke } = this.state;
    if (!stroke) return;
    this.state.stroke = null;
    for (const index of stroke.growing.painted.keys()) this.drawing.put(index, stroke.under[index]);
  }

  /** The first corner is set, or what is drawn from it to a square.
   * @param {string} tool @param {Square} at @param {number} colour @returns {number[][]} */
  cornered(tool, at, colour) {
    const from = this.state.corner;
    this.state.corner = from ? null : at;
    return from ? drawnWith(tool, from, at, colour) : [];
  }

  /** Paint the square in focus, or set the first corner of what is drawn between two squares; Enter takes a preview instead, if there is one when Python comes to it.
   * @param {"dot" | "enter"} name */
  dot(name) {
    const { state, talk } = this;
    const { here: at, tool, colour } = state;
    if (talk.lost || (name === "dot" && !PAINTS.has(tool))) return;
    const paints = PAINTS.has(tool) && !(name === "enter" && state.said.preview);
    const gesture = (/** @type {Uint8Array} */ on) => {
      if (!paints || at[0] >= state.sheet.columns || at[1] >= state.sheet.rows) return [];
      if (BETWEEN.has(tool)) return this.cornered(tool, at, colour);
      state.corner = null;
      return tool === "fill" ? this.filled(on, at, colour) : [[...at, colour]];
    };
    talk.tell({ kind: "act", name, ...talk.at, tool, colour }, gesture);
    this.drawing.drawUnheard();
  }
}
