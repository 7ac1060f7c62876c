// @ts-check
/** The hand on the keyboard. */

import { PAINTS } from "./painter_strokes.js";
import { LAYS, TOOLS } from "./painter_words.js";

/**
 * @typedef {import("./painter_drawing.js").Drawing} Drawing
 * @typedef {import("./painter_laying.js").Laying} Laying
 * @typedef {import("./painter_panels.js").Panels} Panels
 * @typedef {import("./painter_parts.js").Parts} Parts
 * @typedef {import("./painter_squares.js").Square} Square
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_strokes.js").Strokes} Strokes
 * @typedef {import("./painter_talk.js").Talk} Talk
 * @typedef {import("./painter_turns.js").Turns} Turns
 * @typedef {{ state: State, drawing: Drawing, panels: Panels, talk: Talk, strokes: Strokes, parts: Parts, laying: Laying, turns: Turns }} Painter
 */

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** Let keys on the canvas move, paint and choose, until the signal ends it.
 * @param {Painter} painter @param {AbortSignal} signal */
export function obeyKeys(painter, signal) {
  const { state, drawing, panels, talk, strokes, parts, laying, turns } = painter;
  /** @param {"dot" | "enter"} name */
  const dot = (name) => {
    if (LAYS.has(state.tool) && !(name === "enter" && state.said.preview)) laying.lay();
    else strokes.dot(name);
  };
  /** @type {Record<string, () => void>} */
  const keys = {
    " ": () => dot("dot"),
    Enter: () => dot("enter"),
    Escape: () => parts.leave(),
    x: () => panels.does.takeColour(1 - state.colour),
    n: () => talk.act("nearest"),
    c: () => parts.copy(),
    k: () => parts.cut(),
    v: () => parts.paste(),
    Delete: () => parts.clear(),
    Backspace: () => parts.clear(),
    "+": () => drawing.zoom(1.25),
    "=": () => drawing.zoom(1.25),
    "-": () => drawing.zoom(1 / 1.25),
    "?": () => panels.turnHelp(),
  };
  for (const [name, , letter] of TOOLS) keys[letter] = () => panels.does.takeTool(name);

  drawing.canvas.addEventListener("keydown", (event) => {
    const plain = !event.ctrlKey && !event.metaKey && !event.altKey;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (key === "Tab") return;
    if (!plain && !((event.ctrlKey || event.metaKey) && (key === "z" || key === "y"))) return;
    // nothing plain may reach the notebook: its keys delete cells
    event.stopPropagation();
    const { shiftKey } = event;
    const arrow = ARROWS[key];
    const pressed = arrow ? () => goBy(painter, arrow, shiftKey) : keys[key];
    const does = plain ? pressed : () => talk.act(key === "y" || shiftKey ? "redo" : "undo");
    if (!does) return;
    event.preventDefault();
    if (key === "Escape" && state.busy) {
      parts.drop();
      turns.release();
    } else turns.inTurn(does, { moves: key in ARROWS, lays: key === " " || key === "Enter" });
  }, { signal });
}

/** Move the focus by a square, and paint or select on the way if shift is held.
 * @param {Painter} painter @param {[number, number]} step @param {boolean} shift */
function goBy({ state, drawing, talk, strokes, parts }, [dx, dy], shift) {
  const from = state.here;
  /** @type {Square} */
  const at = [
    Math.max(0, Math.min(state.sheet.columns - 1, from[0] + dx)),
    Math.max(0, Math.min(state.sheet.rows - 1, from[1] + dy)),
  ];
  if (shift && state.tool === "select") parts.stretch(at, state.selection ?? [...from, ...from]);
  else if (shift && !talk.lost && PAINTS.has(state.tool)) {
    strokes.begin(from);
    if (state.tool !== "fill") strokes.goOn(at);
    strokes.end();
  }
  // against the edge the focus stays, even where it was put outside a picture that has become smaller
  if (at[0] !== from[0] || at[1] !== from[1]) strokes.setFocus(at);
  else drawing.drawFocus();
  drawing.showFocus();
}
