// @ts-check
/** What is in hand, lettering or a stamp: chosen, seen where it would lie, and laid there. */

/**
 * @typedef {import("./painter_drawing.js").Drawing} Drawing
 * @typedef {import("./painter_squares.js").Square} Square
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_strokes.js").Strokes} Strokes
 * @typedef {import("./painter_talk.js").Talk} Talk
 */

export class Laying {
  /** @param {State} state @param {Drawing} drawing @param {Strokes} strokes @param {Talk} talk */
  constructor(state, drawing, strokes, talk) {
    this.state = state;
    this.drawing = drawing;
    this.strokes = strokes;
    this.talk = talk;
  }

  /** Tell Python what is to be in hand. What was in hand until now is no longer seen on the picture.
   * @param {string} name @param {Record<string, unknown>} values */
  take(name, values) {
    if (this.talk.lost) return;
    this.talk.send({ kind: "take", name, values });
    this.state.inHand = null;
    this.drawing.drawFocus();
  }

  /** Show what is in hand where the pointer is.
   * @param {Square} at */
  hold(at) {
    this.state.focus = at;
    this.drawing.drawFocus();
  }

  /** Lay what is in hand, from the square in focus on. What was laid is selected. */
  lay() {
    const { state, talk } = this;
    const held = state.inHand;
    if (talk.lost || !held) return;
    const { here, layingAt: [left, top], laidHere } = state;
    talk.tell({ kind: "part", name: "lay", x: here[0], y: here[1] }, () => laidHere);
    state.selection = [left, top, left + held.columns - 1, top + held.rows - 1];
    this.drawing.drawUnheard();
    this.strokes.setFocus(here);
  }
}
