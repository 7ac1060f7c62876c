// @ts-check
/**
 * A guide at work: it moves through the steps of a chart, shows what was laid out for each, and keeps the place.
 *
 * Nothing of the craft is known here: texts, drawings, their order, the loops on the hook and what every row paints all
 * come as data. `guide(el, data, store)` needs nothing but that data and a store for the place, so it runs without
 * Python too.
 */

import { mannered, secondsFrom } from "./guide_keeping.js";
import { Panels } from "./guide_panels.js";
import { ahead, back, isDone, placed } from "./guide_places.js";
import { Voice } from "./guide_voice.js";
import { saidAt } from "./guide_words.js";

/**
 * @typedef {import("./guide_places.js").Data} Data
 * @typedef {import("./guide_places.js").Pace} Pace
 * @typedef {import("./guide_places.js").Place} Place
 * @typedef {import("./guide_keeping.js").Store} Store
 */

/** Whether two places are the same.
 * @param {Place} one @param {Place} other */
function same(one, other) {
  return one.rows === other.rows && one.stitches === other.stitches && one.moves === other.moves;
}

class Guide {
  /** @param {HTMLElement} el @param {Data} data @param {Store} store */
  constructor(el, data, store) {
    this.data = data;
    this.store = store;
    this.place = placed(store.load(), data);
    this.manner = mannered(store.manner?.(), data);
    this.panels = new Panels(data, this.manner);
    this.voice = new Voice(this.panels.live);
    /** @type {number | null} */ this.timer = null;
    el.append(this.panels.page);
    this.obeyControls();
    this.obeyKeys();
    this.panels.enlarge();
    this.panels.show(this.place);
  }

  obeyControls() {
    const { pace, style, jump, go, seconds, timer, large, speech, ...ways } = this.panels.controls;
    ways.back.addEventListener("click", () => this.step(back));
    ways.next.addEventListener("click", () => this.step(ahead));
    pace.addEventListener("change", () => {
      this.manner.pace = /** @type {Pace} */ (pace.value);
      this.keepManner();
      this.panels.show(this.place);
      this.say();
    });
    style.addEventListener("change", () => {
      this.manner.style = Number(style.value);
      this.keepManner();
      this.panels.show(this.place);
    });
    jump.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => event.key === "Enter" && this.jump());
    go.addEventListener("click", () => this.jump());
    seconds.addEventListener("change", () => {
      this.manner.seconds = secondsFrom(seconds.value);
      seconds.value = String(this.manner.seconds);
      this.keepManner();
      if (this.timer !== null) this.start();
    });
    timer.addEventListener("click", () => (this.timer === null ? this.start() : this.pause()));
    large.addEventListener("click", () => {
      this.manner.large = !this.manner.large;
      this.keepManner();
      this.panels.enlarge();
    });
    speech.addEventListener("click", () => {
      this.voice.turn(!this.voice.aloud, this.words());
      speech.setAttribute("aria-pressed", String(this.voice.aloud));
    });
  }

  obeyKeys() {
    const { data } = this;
    /** @param {Partial<Place>} stitch */
    const inRow = (stitch) => (isDone(this.place, data) ? this.place : { ...this.place, moves: 0, ...stitch });
    /** @type {Record<string, () => void>} */
    const keys = {
      " ": () => this.step(ahead),
      ArrowRight: () => this.step(ahead),
      ArrowLeft: () => this.step(back),
      ArrowUp: () => this.go(ahead(this.place, "row", data)),
      ArrowDown: () => this.go(back(this.place, "row", data)),
      Home: () => this.go(inRow({ stitches: 0 })),
      End: () => this.go(inRow({ stitches: data.stitches - 1 })),
      PageUp: () => this.go({ rows: Math.min(this.place.rows + 10, data.rows), stitches: 0, moves: 0 }),
      PageDown: () => this.go({ rows: Math.max(this.place.rows - 10, 0), stitches: 0, moves: 0 }),
    };
    this.panels.page.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
      const on = /** @type {HTMLElement} */ (event.target);
      const presses = event.key === " " && on !== this.panels.desk; // a button or a summary takes it
      const writes = on.matches("input, select");
      if (event.shiftKey || writes || presses || !(event.key in keys)) return;
      event.preventDefault();
      keys[event.key]();
    });
  }

  // ---- moving ---------------------------------------------------------------------------------------------

  /** @param {(place: Place, pace: Pace, data: Data) => Place} way */
  step(way) {
    this.go(way(this.place, this.manner.pace, this.data));
  }

  /** @param {Place} to */
  go(to) {
    if (same(to, this.place)) return;
    this.place = to;
    this.store.save(to);
    this.panels.show(to);
    this.say();
    if (isDone(to, this.data)) this.pause();
  }

  jump() {
    const { data } = this;
    const row = Number(this.panels.controls.jump.value);
    if (Number.isInteger(row) && row >= 1 && row <= data.rows) this.go({ rows: row - 1, stitches: 0, moves: 0 });
    else this.panels.live.textContent = `Expected a ${data.row.toLowerCase()} from 1 to ${data.rows}.`;
  }

  start() {
    this.pause();
    if (isDone(this.place, this.data)) return;
    this.timer = window.setInterval(() => this.step(ahead), this.manner.seconds * 1000);
    this.panels.controls.timer.textContent = "Pause timer";
    this.panels.controls.timer.setAttribute("aria-pressed", "true");
  }

  pause() {
    if (this.timer !== null) window.clearInterval(this.timer);
    this.timer = null;
    this.panels.controls.timer.textContent = "Start timer";
    this.panels.controls.timer.setAttribute("aria-pressed", "false");
  }

  // ---- saying and keeping ---------------------------------------------------------------------------------

  words() {
    return saidAt(this.place, this.manner.pace, this.data);
  }

  say() {
    this.voice.say(this.words());
  }

  keepManner() {
    this.store.keepManner?.(this.manner);
  }
}

/** Put a guide into an element.
 * @param {HTMLElement} el @param {Data} data @param {Store} store
 * @returns {{ goTo: (place: any) => void, tell: (note: string, trouble: string) => void, stop: () => void }} */
export function guide(el, data, store) {
  const led = new Guide(el, data, store);
  const { banner, note, page } = led.panels;
  return {
    goTo(to) {
      const there = placed(to, data);
      if (same(there, led.place)) return;
      led.place = there;
      led.panels.show(there);
    },
    tell(about, trouble) {
      note.textContent = about;
      banner.textContent = trouble;
      banner.hidden = !trouble;
    },
    stop() {
      led.pause();
      if (led.voice.aloud) led.voice.stop();
      page.remove();
    },
  };
}
