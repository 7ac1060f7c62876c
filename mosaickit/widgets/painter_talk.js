// @ts-check
/**
 * What the painter tells Python: what the hand did, in the order in which it was done. Squares, the tool and the colour
 * they were painted in, a setting that was changed; never what becomes of it, which is Python's to say.
 */

import { Link } from "./link.js";

/**
 * @typedef {import("./painter_state.js").Gesture} Gesture
 * @typedef {import("./painter_state.js").State} State
 * @typedef {{ counts: boolean, resizes: boolean, takes: boolean }} About
 * Whether a message does something that is to be kept, whether it may change the picture's size, and whether it takes
 * something in hand.
 */

/** What never changes the picture's size; where an arrow key leads after anything else is known when Python answers. */
const SIZE_STAYS = new Set(["nearest", "accept", "leave", "enter", "dot"]);
/** What changes nothing that is kept. */
const SHOWS = new Set(["ask", "look", "stamps", "take"]);

export class Talk {
  /** @param {any} model @param {State} state
   * @param {{ hears: (answer: any) => void, changes: () => void, loses: () => void, sends: () => void }} tells as a
   * `Link` takes it; sends: something was told that is to be kept */
  constructor(model, state, { sends, ...tells }) {
    this.model = model;
    this.state = state;
    this.sends = sends;
    /** @type {Link<About>} */
    this.link = new Link(model, tells);
    /** @type {Map<string, number>} */
    this.claims = new Map(); // settings that were changed here: the message that says so, or Infinity while it waits
    this.asking = 0;
  }

  get lost() {
    return this.link.lost;
  }

  /** Whether Python may be changing the picture's size. */
  get resizing() {
    return this.link.unanswered.some((each) => each.resizes);
  }

  /** Whether Python has not said yet what is in hand. */
  get taking() {
    return this.link.unanswered.some((each) => each.takes);
  }

  /** How many things that the hand did are not answered yet. */
  get undone() {
    return this.link.unanswered.filter((each) => each.counts).length;
  }

  /** @param {Record<string, any>} content @param {ArrayBuffer[]} [buffers] @returns {number} the message's number */
  send(content, buffers = []) {
    const asks = content.kind === "ask";
    const resizes = content.kind === "act" && !SIZE_STAYS.has(content.name);
    const number = this.link.send(content, buffers, { counts: !SHOWS.has(content.kind), resizes, takes: content.kind === "take" });
    if (!asks) this.sends();
    return number;
  }

  /** The square in focus, as messages name it. */
  get at() {
    const [x, y] = this.state.focus;
    return { x, y };
  }

  /** @param {string} name */
  act(name) {
    if (this.lost) return;
    const { tool, colour } = this.state;
    this.send({ kind: "act", name, ...this.at, tool, colour });
  }

  /** Tell Python what the hand did, to be drawn until Python has answered.
   * @param {Record<string, any>} content
   * @param {Gesture} gesture @param {number[][]} [named] */
  tell(content, gesture, named) {
    const number = this.send(content, named ? [Int32Array.from(named.flat()).buffer] : []);
    // what is painted otherwise leaves the corner that the keyboard draws from
    this.state.unanswered.push({ number, gesture, keepsCorner: content.kind === "act" || content.name === "copy" });
  }

  /** @param {string} name @param {unknown} value */
  set(name, value) {
    this.claims.set(name, this.send({ kind: "set", name, value }));
  }

  /** Ask what there is to say of the square in focus. */
  askNow() {
    this.send({ kind: "ask", ...this.at });
  }

  /** Ask it when the hand has stayed there for a moment. */
  ask() {
    window.clearTimeout(this.asking);
    this.asking = window.setTimeout(() => {
      if (!this.lost) this.askNow();
    }, 80);
  }

  /** Hear which of this view's messages is in what Python sent; gives its number. */
  hear() {
    this.link.answered(this.model.get("heard")[this.link.view] ?? 0);
    const { heard } = this.link;
    for (const [name, number] of [...this.claims]) if (number <= heard) this.claims.delete(name);
    return heard;
  }

  end() {
    window.clearTimeout(this.asking);
    this.link.end();
  }
}
