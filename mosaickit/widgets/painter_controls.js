// @ts-check
/** The painter's buttons, boxes and lists; what they do is given by the painter. */

import { make } from "./elements.js";
import { CHANGES, FOLLOW, TOOLS, VIEWS } from "./painter_words.js";

/**
 * @typedef {{
 *   inTurn: (does: () => void) => void, act: (name: string) => void, set: (name: string, value: unknown) => void,
 *   look: (at: string) => void, takeTool: (name: string) => void, takeColour: (number: number) => void,
 *   zoom: (factor: number) => void, copy: () => void, cut: () => void, paste: () => void, turnHelp: () => void,
 * }} Does
 */

/** A button that does something when it is its turn.
 * @param {string} text @param {() => void} press @param {Does} does @param {AbortSignal} signal @param {string} [hint] */
export function turnButton(text, press, does, signal, hint) {
  const made = make("button", { type: "button", title: hint ?? "" }, [text]);
  made.addEventListener("click", () => does.inTurn(press), { signal });
  return made;
}


const numberBox = () => make("input", { type: "number", min: "0", max: "999", value: "0" });

/** @param {string} label @param {(readonly [string, string])[]} options */
function list(label, options) {
  const made = make("select", {}, options.map(([name, text]) => make("option", { value: name }, [text])));
  made.setAttribute("aria-label", label);
  return made;
}

/** The boxes and lists that change how the hand paints, what is seen, or the whole picture.
 * @param {Does} does @param {AbortSignal} signal */
function boxesOf(does, signal) {
  const tick = () => make("input", { type: "checkbox" });
  const boxes = {
    follow: FOLLOW.map(([name, text]) => {
      const box = tick();
      return { name, box, label: make("label", {}, [box, text]) };
    }),
    across: numberBox(),
    up: numberBox(),
    only: tick(),
    hand: tick(),
    view: list("Second view", [...VIEWS]),
    change: list("Change the whole picture", [["", "Change all…"], ...CHANGES]),
  };
  /** @param {string} name @param {HTMLInputElement} box @param {() => unknown} value */
  const setting = (name, box, value) => box.addEventListener("change", () => does.set(name, value()), { signal });
  for (const { name, box } of boxes.follow) setting(name, box, () => box.checked);
  setting("across", boxes.across, () => Number(boxes.across.value) || 0);
  setting("up", boxes.up, () => Number(boxes.up.value) || 0);
  setting("only_workable", boxes.only, () => boxes.only.checked);
  setting("hand", boxes.hand, () => (boxes.hand.checked ? "left" : "right"));
  boxes.view.addEventListener("change", () => {
    const at = boxes.view.value;
    does.inTurn(() => does.look(at));
  }, { signal });
  boxes.change.addEventListener("change", () => {
    const name = boxes.change.value;
    if (name) does.inTurn(() => does.act(name));
    boxes.change.value = "";
  }, { signal });
  return boxes;
}

/** Every control that something is shown on, and the bar that holds all of them.
 * @param {Does} does @param {AbortSignal} signal */
export function controlsOf(does, signal) {
  /** @param {string} text @param {() => void} press @param {string} [hint] */
  const button = (text, press, hint) => turnButton(text, press, does, signal, hint);
  const tools = TOOLS.map(([name, text, key]) => button(text, () => does.takeTool(name), `Key ${key.toUpperCase()}`));
  const colours = [0, 1].map((number) => button("", () => does.takeColour(number), "Key X takes the other colour"));
  const undo = button("Undo", () => does.act("undo"));
  const redo = button("Redo", () => does.act("redo"));
  const accept = button("Accept", () => does.act("accept"), "Key Enter");
  const leave = button("Leave", () => does.act("leave"), "Key Escape");
  const boxes = boxesOf(does, signal);
  /** @type {[string, any[]][]} */
  const groups = [
    ["Tools", tools],
    ["Colour", colours],
    ["Steps", [undo, redo]],
    ["Nearest", [button("Nearest workable", () => does.act("nearest"), "Key N")]],
    ["View", [
      button("−", () => does.zoom(1 / 1.25), "Zoom out"), button("+", () => does.zoom(1.25), "Zoom in"), boxes.view,
    ]],
    ["Selection", [
      button("Copy", does.copy, "Key C"), button("Cut", does.cut, "Key K"), button("Paste", does.paste, "Key V"),
    ]],
    ["Picture", [boxes.change]],
    ["What follows the hand", ["Paint also:", ...boxes.follow.map((each) => each.label)]],
    ["Repeats that follow the hand", [
      make("label", {}, ["Repeat every", boxes.across, "stitches"]), make("label", {}, ["and every", boxes.up, "rows"]),
    ]],
    ["Help", [
      make("label", {}, [boxes.only, "only what can be worked"]), make("label", {}, [boxes.hand, "left-handed"]),
      button("?", does.turnHelp, "Keys"),
    ]],
  ];
  const bar = make("div", { className: "mk-bar" }, groups.map(([name, parts]) => {
    const group = make("div", { className: "mk-group", role: "group" }, parts);
    group.setAttribute("aria-label", name);
    return group;
  }));
  return { bar, tools, colours, undo, redo, accept, leave, ...boxes };
}
