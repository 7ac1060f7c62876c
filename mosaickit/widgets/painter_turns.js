// @ts-check
/** One thing after another: what the hand did is done in its order, and waits while what was before it waits. */

import { LAYS } from "./painter_words.js";

/**
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_talk.js").Talk} Talk
 */

export class Turns {
  /** @param {State} state @param {Talk} talk */
  constructor(state, talk) {
    this.state = state;
    this.talk = talk;
    /** @type {{ does: () => void, moves: boolean, ofStroke: boolean, lays: boolean }[]} */
    this.held = []; // what the hand did and the page has not done yet, in order
  }

  /** Do what the hand did, after all that it did before.
   * @param {() => void} does @param {{ moves?: boolean, ofStroke?: boolean, lays?: boolean }} [how] moves: it goes on from where the
   * focus is, which depends on a size that Python may be changing; ofStroke: it is part of a stroke; lays: it
   * lays what is in hand, if the tool does that, and Python has to have said what that is */
  inTurn(does, how = {}) {
    this.held.push({ does, moves: how.moves ?? false, ofStroke: how.ofStroke ?? false, lays: how.lays ?? false });
    this.release();
  }

  /** Do what need not wait any longer. */
  release() {
    const { held, state, talk } = this;
    /** @param {{ moves: boolean, lays: boolean }} next */
    const waits = ({ moves, lays }) => (moves && talk.resizing) || (lays && LAYS.has(state.tool) && (talk.undone > 0 || talk.taking));
    while (held.length && (held[0].ofStroke || !state.busy) && !waits(held[0])) held.shift()?.does();
  }
}
