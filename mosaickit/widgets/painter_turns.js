// @ts-check
/** One thing after another: what the hand did is done in its order, and waits while what was before it waits. */

/**
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_talk.js").Talk} Talk
 */

export class Turns {
  /** @param {State} state @param {Talk} talk */
  constructor(state, talk) {
    this.state = state;
    this.talk = talk;
    /** @type {{ does: () => void, moves: boolean, ofStroke: boolean }[]} */
    this.held = []; // what the hand did and the page has not done yet, in order
  }

  /** Do what the hand did, after all that it did before.
   * @param {() => void} does @param {{ moves?: boolean, ofStroke?: boolean }} [how] moves: it goes on from where the
   * focus is, which depends on a size that Python may be changing; ofStroke: it is part of a stroke */
  inTurn(does, how = {}) {
    this.held.push({ does, moves: how.moves ?? false, ofStroke: how.ofStroke ?? false });
    this.release();
  }

  /** Do what need not wait any longer. */
  release() {
    const { held, state, talk } = this;
    while (held.length && (held[0].ofStroke || !state.busy) && !(held[0].moves && talk.resizing)) held.shift()?.does();
  }
}
