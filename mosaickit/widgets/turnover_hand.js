// @ts-check
/** What a patch of yarn hears of the hand: buttons, keys, and a pointer that drags it. */

import { make } from "./elements.js";
import { FRONT, moved, sideSeen } from "./turnover_space.js";

/** @typedef {import("./turnover_space.js").Hold} Hold */
/**
 * @typedef {{
 *   canvas: HTMLCanvasElement, held: Hold, meant: Hold,
 *   hold: (hold: Hold) => void, turnTo: (hold: Hold) => void, zoom: (factor: number) => void,
 * }} Held
 * `held`: how it lies, `meant`: how it will lie once it has turned; `hold`: let it lie so at once; `turnTo`: turn it there
 * in sight.
 */

/** @type {Record<string, [number, number, number?]>} */
const STEPS = {
  ArrowLeft: [-10, 0], ArrowRight: [10, 0], ArrowUp: [0, -10], ArrowDown: [0, 10], "+": [0, 0, 1.25], "-": [0, 0, 0.8],
};

/** What can be pressed, by the word on its button.
 * @param {Held} yarn */
function turnsOf(yarn) {
  return {
    Front: () => yarn.turnTo(FRONT),
    Back: () => yarn.turnTo({ ...FRONT, turn: 180 }),
    "Turn over": () => yarn.turnTo({ ...FRONT, turn: sideSeen(yarn.meant) === "front" ? 180 : 0 }),
    Larger: () => yarn.zoom(1.25),
    Smaller: () => yarn.zoom(0.8),
  };
}

/** Obey buttons, which are given, and keys.
 * @param {Held} yarn */
export function obeyTurns(yarn) {
  const turns = turnsOf(yarn);
  yarn.canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.key === "Tab") return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    const step = STEPS[event.key];
    if (step) {
      event.preventDefault();
      yarn.hold(moved(yarn.meant, ...step));
    } else if (event.key === "Home") turns.Front();
    else if (event.key === "End") turns.Back();
    else if (event.key === " ") {
      event.preventDefault();
      turns["Turn over"]();
    }
  });
  return Object.entries(turns).map(([name, press]) => {
    const button = make("button", { textContent: name });
    button.addEventListener("click", press);
    return button;
  });
}

/** Obey a pointer that drags.
 * @param {Held} yarn */
export function obeyDrag(yarn) {
  const { canvas } = yarn;
  /** @type {[number, number] | null} */
  let held = null;
  canvas.addEventListener("pointerdown", (event) => {
    held = [event.clientX, event.clientY];
    canvas.setPointerCapture(event.pointerId);
    canvas.focus();
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held) return;
    yarn.hold(moved(yarn.held, (event.clientX - held[0]) * 0.5, (event.clientY - held[1]) * 0.5));
    held = [event.clientX, event.clientY];
  });
  for (const over of ["pointerup", "pointercancel"]) canvas.addEventListener(over, () => (held = null));
}
