// @ts-check
/** What can be pressed above the wall: a button for each thing that the hand can do, and the order of the wall. */

import { make } from "./elements.js";

/** @typedef {import("./explorer_hands.js").ExplorerHand} ExplorerHand */

/** What a button does, its word, and the key that does the same on the wall.
 * @type {[string, string, string][]} */
const PRESSES = [
  ["pin", "Pin (P)", "p"],
  ["breed", "Breed the two pinned (B)", "b"],
  ["chance", "One at random (R)", "r"],
  ["paint", "Send to the painter (S)", "s"],
];

/** What a key does on the wall; nothing for most.
 * @param {string} key */
export const pressOf = (key) => PRESSES.find(([, , each]) => each === key.toLowerCase())?.[0];

export class ExplorerBar {
  /** @param {ExplorerHand} hand @param {string[]} sorts */
  constructor(hand, sorts) {
    const buttons = PRESSES.filter(([what]) => hand.can(what)).map(([what, textContent]) => {
      const button = make("button", { textContent });
      button.addEventListener("click", () => hand.press(what));
      return button;
    });
    const sort = make("select", {}, sorts.map((name) => new Option(name, name)));
    sort.addEventListener("change", () => hand.sort(sort.value));
    this.page = make("div", { className: "mk-bar" }, [...buttons, make("label", {}, ["Sorted by ", sort])]);
  }
}
