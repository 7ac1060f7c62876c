// @ts-check
/** The hand with a mouse, a pen or a finger. */

import { within } from "./painter_squares.js";
import { LAYS } from "./painter_words.js";

/**
 * @typedef {import("./painter_drawing.js").Drawing} Drawing
 * @typedef {import("./painter_laying.js").Laying} Laying
 * @typedef {import("./painter_parts.js").Parts} Parts
 * @typedef {import("./painter_squares.js").Square} Square
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_strokes.js").Strokes} Strokes
 * @typedef {import("./painter_talk.js").Talk} Talk
 * @typedef {import("./painter_turns.js").Turns} Turns
 */

/** Let a pointer on the canvas paint, select and carry, until the signal ends it.
 * @param {{ state: State, drawing: Drawing, talk: Talk, strokes: Strokes, parts: Parts, laying: Laying, turns: Turns }} painter
 * @param {AbortSignal} signal */
export function obeyPointer({ state, drawing, talk, strokes, parts, laying, turns }, signal) {
  const { canvas } = drawing;
  /** @type {number | null} */
  let pointer = null; // the one that draws; another finger does nothing meanwhile
  /** Do part of a stroke. While something before it waits, the stroke waits too.
   * @param {() => void} does */
  const ofStroke = (does) => turns.inTurn(does, { ofStroke: true });

  /** @param {Square} at */
  function press(at) {
    if (state.tool === "pan") return;
    if (LAYS.has(state.tool)) state.laying = true;
    else if (state.tool !== "select") strokes.begin(at);
    else if (state.selection && within(at, state.selection)) parts.grasp(at, state.selection);
    else {
      state.selecting = at;
      state.selection = [...at, ...at];
    }
    state.focus = at;
    drawing.drawFocus();
  }

  /** @param {Square} at */
  function move(at) {
    if (state.laying) laying.hold(at);
    else if (state.carried) parts.carry(at);
    else if (state.selecting) {
      parts.stretch(at, [...state.selecting, ...state.selecting]);
      drawing.drawFocus();
    } else strokes.goOn(at);
  }

  /** @param {Square | null} at */
  function lift(at) {
    if (state.laying) {
      state.laying = false;
      if (at) laying.hold(at);
      laying.lay();
      return;
    }
    const painted = state.stroke !== null && state.carried === null;
    state.selecting = null;
    parts.letGo();
    strokes.end();
    if (at && painted) strokes.setFocus(at);
    else talk.ask();
  }

  /** Whether a mouse goes over the picture with something in hand. A page that scrolls under a mouse at rest says so too.
   * @param {PointerEvent} event */
  const hovers = (event) => pointer === null && event.pointerType === "mouse" && (event.movementX || event.movementY)
    && state.layingBox && !turns.held.length;

  canvas.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || pointer !== null || (state.tool === "pan" && !turns.held.length)) return;
    const at = drawing.under(event);
    if (!at || talk.lost) return;
    pointer = event.pointerId;
    canvas.focus({ preventScroll: true });
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    turns.inTurn(() => press(at), { lays: true });
  }, { signal });
  canvas.addEventListener("pointermove", (event) => {
    const at = drawing.under(event);
    if (at && event.pointerId === pointer) ofStroke(() => move(at));
    else if (at && hovers(event)) strokes.setFocus(at); // what is in hand is seen there
  }, { signal });
  canvas.addEventListener("pointerup", (event) => {
    if (event.pointerId !== pointer) return;
    pointer = null;
    const at = drawing.under(event);
    ofStroke(() => lift(at));
  }, { signal });
  canvas.addEventListener("pointercancel", (event) => {
    if (event.pointerId !== pointer) return;
    pointer = null;
    ofStroke(() => parts.drop());
  }, { signal });
}
