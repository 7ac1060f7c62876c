// @ts-check
/** Parts of the picture: selected, copied, cut, pasted, cleared, and carried to another place. */

import { boxSquares } from "./painter_squares.js";

/**
 * @typedef {import("./painter_drawing.js").Drawing} Drawing
 * @typedef {import("./painter_squares.js").Box} Box
 * @typedef {import("./painter_squares.js").Square} Square
 * @typedef {import("./painter_state.js").Gesture} Gesture
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_strokes.js").Strokes} Strokes
 * @typedef {import("./painter_talk.js").Talk} Talk
 */

/** The squares of a box, in MC.
 * @param {Box} box @returns {number[][]} */
function cleared(box) {
  return boxSquares(...box).map(([x, y]) => [x, y, 0]);
}

export class Parts {
  /** @param {State} state @param {Drawing} drawing @param {Strokes} strokes @param {Talk} talk */
  constructor(state, drawing, strokes, talk) {
    this.state = state;
    this.drawing = drawing;
    this.strokes = strokes;
    this.talk = talk;
  }

  /** Tell Python what to do with the selection, or with the square in focus.
   * @param {string} name @param {Gesture} gesture */
  tell(name, gesture) {
    if (this.talk.lost) return;
    this.talk.tell({ kind: "part", name, ...this.talk.at, box: this.state.selection }, gesture);
    this.drawing.drawUnheard();
  }

  copy() {
    const { state } = this;
    const [x0, y0, x1, y1] = state.selected ?? [...state.here, ...state.here];
    state.copied = {
      width: x1 - x0 + 1,
      height: y1 - y0 + 1,
      cells: Uint8Array.from(boxSquares(x0, y0, x1, y1), ([x, y]) => state.cells[y * state.sheet.columns + x]),
    };
    this.tell("copy", () => []);
  }

  cut() {
    this.copy();
    this.clear();
  }

  paste() {
    const { width, cells: from } = this.state.copied ?? { width: 1, cells: [] };
    const [x0, y0] = this.state.selection ?? this.state.here;
    this.tell("paste", () => Array.from(from, (value, at) => [x0 + (at % width), y0 + Math.floor(at / width), value]));
  }

  clear() {
    const box = this.state.selection;
    if (box) this.tell("clear", () => cleared(box));
  }

  /** Mirror or turn the selected part where it lies: what is overlaid in it stays overlaid.
   * @param {string} name */
  turn(name) {
    const { state } = this;
    const box = state.selected;
    this.tell(name, (on) => {
      if (!box) return [];
      const { columns } = state.sheet;
      const { row_is_cc: roles } = state.follow;
      const [x0, y0, x1, y1] = box;
      return boxSquares(...box).filter(([x, y]) => state.holds(x, y)).map(([x, y]) => {
        const from = [name === "up-down" ? x : x0 + x1 - x, name === "mirror" ? y : y0 + y1 - y];
        const value = on[from[1] * columns + from[0]];
        return [x, y, roles[y] === roles[from[1]] ? value : 1 - value];
      });
    });
  }

  /** Select from where the hand began to a square, or stretch what is selected to it.
   * @param {Square} at @param {Box} from */
  stretch(at, [x0, y0, x1, y1]) {
    this.state.selection = [Math.min(x0, at[0]), Math.min(y0, at[1]), Math.max(x1, at[0]), Math.max(y1, at[1])];
  }

  /** A part of a picture in another place.
   * @param {Box} from @param {[number, number]} by @returns {Gesture} */
  moved(from, [dx, dy]) {
    return (on) => {
      const { state } = this;
      const inside = boxSquares(...from).filter(([x, y]) => state.holds(x, y));
      const landed = inside.map(([x, y]) => [x + dx, y + dy, on[y * state.sheet.columns + x]]);
      return dx || dy ? [...landed, ...cleared(from)] : [];
    };
  }

  /** Take a selection in hand, to carry it elsewhere.
   * @param {Square} at @param {Box} box */
  grasp(at, box) {
    this.strokes.start(at);
    this.state.carried = { from: box, grasped: at, by: [0, 0] };
  }

  /** Show the selection in hand where it is now.
   * @param {Square} at */
  carry(at) {
    const { carried, stroke } = this.state;
    if (!stroke || !carried) return;
    carried.by = [at[0] - carried.grasped[0], at[1] - carried.grasped[1]];
    const [dx, dy] = carried.by;
    const [x0, y0, x1, y1] = carried.from;
    this.strokes.repaint(this.moved(carried.from, carried.by)(stroke.under));
    this.state.selection = [x0 + dx, y0 + dy, x1 + dx, y1 + dy];
    this.drawing.drawFocus();
  }

  /** Let go of the selection in hand, where it is now. */
  letGo() {
    if (!this.state.carried) return;
    const { from, by } = this.state.carried;
    this.state.carried = this.state.stroke = null;
    if (by[0] || by[1])
      this.talk.tell({ kind: "part", name: "move", ...this.talk.at, box: from, by }, this.moved(from, by));
  }

  /** Let go of what is in hand: the picture is as it was. */
  drop() {
    const { state } = this;
    if (state.carried) state.selection = state.carried.from;
    state.carried = state.selecting = null;
    state.laying = false;
    this.strokes.drop();
    this.drawing.drawFocus();
  }

  /** Leave a preview, a first corner, and the selection. */
  leave() {
    const { state, talk } = this;
    state.selection = null;
    if (!talk.lost && (state.said.preview || state.corner || talk.link.waiting.size)) {
      const { tool, colour } = state;
      talk.tell({ kind: "act", name: "leave", ...talk.at, tool, colour }, () => {
        state.corner = null;
        return [];
      });
      this.drawing.drawUnheard();
    } else this.drawing.drawFocus();
  }
}
