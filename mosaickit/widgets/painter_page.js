// @ts-check
/**
 * The hand of the painter: what was pressed, drawn at once, told to Python, and Python's answer drawn over it.
 *
 * Until Python has said what becomes of what the hand did, the page draws what it expects: Python's last picture, and on
 * top of it all that the hand did since. So nothing depends on how long Python takes.
 */

import { Drawing } from "./painter_drawing.js";
import { obeyKeys } from "./painter_keys.js";
import { Laying } from "./painter_laying.js";
import { Panels } from "./painter_panels.js";
import { Parts } from "./painter_parts.js";
import { obeyPointer } from "./painter_pointer.js";
import { State } from "./painter_state.js";
import { Strokes } from "./painter_strokes.js";
import { Talk } from "./painter_talk.js";
import { Turns } from "./painter_turns.js";

/** The parts of a painter, put together; they are used when the hand does something, and by then all are there.
 * @param {any} model @param {AbortSignal} signal */
function put(model, signal) {
  const state = new State(model);
  /** @type {Panels} */
  const panels = new Panels(state, {
    inTurn: (does) => turns.inTurn(does),
    act: (name) => talk.act(name),
    set(name, value) {
      talk.claims.set(name, Infinity);
      turns.inTurn(() => talk.set(name, value));
    },
    look: (at) => talk.send({ kind: "look", at }),
    takeTool(name) {
      panels.takeTool(name);
      drawing.drawFocus(); // what the keyboard would draw is another thing now
    },
    takeColour(number) {
      panels.takeColour(number);
      drawing.drawFocus();
    },
    zoom: (factor) => drawing.zoom(factor),
    copy: () => parts.copy(),
    cut: () => parts.cut(),
    paste: () => parts.paste(),
    turn: (name) => parts.turn(name),
    turnHelp: () => panels.turnHelp(),
    take: (name, values) => laying.take(name, values),
    askStamps: (most) => talk.send({ kind: "stamps", most }),
    toPicture: () => drawing.canvas.focus({ preventScroll: true }),
    jump(square) {
      strokes.setFocus([square % state.sheet.columns, Math.floor(square / state.sheet.columns)]);
      drawing.showFocus();
      drawing.canvas.focus({ preventScroll: true });
    },
  }, signal);
  const drawing = new Drawing(state, panels.canvas, panels.scroll);
  /** @type {Talk} */
  const talk = new Talk(model, state, {
    hears(answer) {
      if (answer.kind === "told") panels.focusText.textContent = answer.sentence;
    },
    changes: () => panels.tellTrouble(talk),
    loses() {
      turns.held.length = 0;
      parts.drop();
      panels.tellTrouble(talk);
      talk.askNow(); // an answer shows that it was not lost
    },
    sends: () => panels.showSteps(talk),
  });
  const strokes = new Strokes(state, drawing, talk);
  const parts = new Parts(state, drawing, strokes, talk);
  const laying = new Laying(state, drawing, strokes, talk);
  const turns = new Turns(state, talk);
  return { state, panels, drawing, talk, strokes, parts, laying, turns };
}

/** Take over what Python says, and lay on top of it what it has not heard yet.
 * @param {ReturnType<typeof put>} painter @param {any} model */
function take({ state, panels, drawing, talk, turns }, model) {
  const { cells, marks, ghost, sheet } = state;
  const sentences = state.said !== model.get("said");
  state.takeOver(talk.hear());
  const another = state.sheet !== sheet;
  panels.takeHeld(talk);
  if (another) {
    panels.takeSheet();
    drawing.forgetFocus();
  }
  state.layUnheard();
  if (another) drawing.drawAll();
  const fresh = state.sheet.rows !== sheet.rows && state.sheet.columns !== sheet.columns; // a row put in moves nothing
  if (fresh) drawing.fit();
  if (!another) drawing.drawChanged({ cells, marks, ghost });
  if (sentences) {
    state.said = model.get("said");
    panels.takeSentences();
  }
  panels.takeSettings(talk);
  if (sentences || another) talk.ask();
  turns.release();
}

/** Lay a painter into an element; gives what ends it.
 * @param {{ model: any, el: HTMLElement }} given */
export function layPainter({ model, el }) {
  const listening = new AbortController();
  const painter = put(model, listening.signal);
  const { state, panels, drawing, talk } = painter;
  el.append(panels.page);
  obeyPointer(painter, listening.signal);
  obeyKeys(painter, listening.signal);

  let takingSoon = false;
  /** All of an answer comes in one message, and is looked through once. */
  const takeSoon = () => {
    if (takingSoon) return;
    takingSoon = true;
    queueMicrotask(() => {
      takingSoon = false;
      take(painter, model);
    });
  };
  const takeStamps = () => panels.chest.takeStamps(model.get("stamps"));
  const takeLook = () => panels.takeLook(model.get("look"));
  /** @type {[string, () => void][]} */
  const follows = [
    ...["cells", "marks", "ghost", "sheet", "follow", "said", "held", "held_cells", "heard"].map(
      (name) => /** @type {[string, () => void]} */ ([name, takeSoon]),
    ),
    ["look", takeLook],
    ["stamps", takeStamps],
  ];
  for (const [trait, does] of follows) model.on(`change:${trait}`, does);

  const fitting = window.requestAnimationFrame(() => drawing.fit()); // the page has no width before it is shown
  const showing = new ResizeObserver(() => drawing.unfitted && drawing.fit());
  showing.observe(panels.scroll);
  panels.takeSheet();
  drawing.forgetFocus();
  drawing.drawAll();
  panels.takeSentences();
  panels.takeSettings(talk);
  takeLook();
  takeStamps();
  panels.takeTool(state.tool);
  panels.takeColour(state.colour);
  talk.askNow();

  return () => {
    listening.abort();
    window.cancelAnimationFrame(fitting);
    showing.disconnect();
    talk.end();
    for (const [trait, does] of follows) model.off(`change:${trait}`, does);
  };
}
