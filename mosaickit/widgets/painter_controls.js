// @ts-check
/** The painter's buttons, boxes and lists; what they do is given by the painter. */

import { make } from "./elements.js";
import { folded, iconButton, list } from "./painter_buttons.js";
import { CHANGES, FOLLOW, TOOLS, TURNS, VIEWS } from "./painter_words.js";

/**
 * @typedef {{
 *   inTurn: (does: () => void) => void, act: (name: string) => void, set: (name: string, value: unknown) => void,
 *   look: (at: string) => void, takeTool: (name: string) => void, takeColour: (number: number) => void,
 *   zoom: (factor: number) => void, copy: () => void, cut: () => void, paste: () => void, turn: (name: string) => void, turnHelp: () => void,
 *   jump: (square: number) => void, take: (name: string, values: Record<string, unknown>) => void,
 *   askStamps: (most: number) => void, toPicture: () => void,
 * }} Does
 */

const numberBox = () => make("input", { type: "number", min: "0", max: "999", value: "0" });

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
    change: list("Change the whole picture", [["", "Change all…"], ...CHANGES]), // each says what it does to the rest
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

/** Controls that belong together. What a host of the painter has itself is only in a painter that stands alone.
 * @param {string} name @param {(Node | string)[]} parts @param {string} [where] */
function group(name, parts, where = "") {
  const made = make("div", { className: `mk-group ${where}`.trim(), role: "group" }, parts);
  made.setAttribute("aria-label", name);
  return made;
}

/** Every control that something is shown on, in the bars that hold them: tools, what is needed less often,
 * and what stands below the picture.
 * @param {Does} does @param {AbortSignal} signal */
export function controlsOf(does, signal) {
  /** @param {string} icon @param {string} text @param {() => void} press @param {{ hint?: string, compact?: boolean }} [how] */
  const button = (icon, text, press, how) => iconButton(icon, text, () => does.inTurn(press), signal, how);
  /** @param {string} icon @param {string} text @param {() => void} press @param {string} hint */
  const small = (icon, text, press, hint) => button(icon, text, press, { hint, compact: true });
  const tools = TOOLS.map(([name, text, key, icon]) =>
    button(icon, text, () => does.takeTool(name), { hint: `${text} (key ${key.toUpperCase()})` }));
  const colours = [0, 1].map((number) => {
    const made = make("button", { type: "button", title: "Key X takes the other colour" });
    made.addEventListener("click", () => does.inTurn(() => does.takeColour(number)), { signal });
    return made;
  });
  const undo = button("undo", "Undo", () => does.act("undo"));
  const redo = button("redo", "Redo", () => does.act("redo"));
  const accept = button("done", "Accept", () => does.act("accept"), { hint: "Key Enter" });
  const leave = button("close", "Leave", () => does.act("leave"), { hint: "Key Escape" });
  const boxes = boxesOf(does, signal);
  const tooling = make("div", { className: "mk-tools" }, [
    group("Tools", tools), group("Colour", colours), group("Steps", [undo, redo], "mk-alone"),
  ]);
  const rest = make("div", { className: "mk-rest" }, [
    folded("Paint also", [
      group("What follows the hand", boxes.follow.map((each) => each.label)),
      group("Repeats that follow the hand", [
        make("label", {}, ["Repeat every", boxes.across, "stitches"]), make("label", {}, ["and every", boxes.up, "rows"]),
      ]),
      make("label", {}, [boxes.only, "only what can be worked"]),
    ]),
    folded("Selection", [
      group("Selection", [
        button("copy", "Copy", does.copy, { hint: "Key C" }), button("cut", "Cut", does.cut, { hint: "Key K" }),
        button("paste", "Paste", does.paste, { hint: "Key V" }),
        ...TURNS.map(([name, text, icon]) => button(icon, text, () => does.turn(name))),
      ]),
    ]),
    group("Picture", [boxes.change, small("mend", "Nearest workable", () => does.act("nearest"), "Nearest workable (key N)")]),
    group("View and hand", [boxes.view, make("label", {}, [boxes.hand, "left-handed"])], "mk-alone"),
  ]);
  const zoom = group("Zoom and keys", [
    small("smaller", "Smaller", () => does.zoom(1 / 1.25), "Smaller (key −)"),
    small("larger", "Larger", () => does.zoom(1.25), "Larger (key +)"),
    small("keys", "Keys", does.turnHelp, "Keys (key ?)"),
  ]);
  return { tooling, rest, zoom, tools, colours, undo, redo, accept, leave, ...boxes };
}
