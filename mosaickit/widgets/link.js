// @ts-check
/**
 * A view's talk with Python, the same for all widgets: messages are numbered, Python does them in order, and says which
 * number it has heard. Whether it is silent, because it is busy or gone, is noticed here; what is then shown is the
 * widget's own. `link.py` is the other end.
 */

const SILENCE_MS = 2000;
/** What a kernel is when it no longer knows a widget. */
const LOST = new Set(["restarting", "autorestarting", "terminating", "dead"]);

/** The kernel behind a widget, where the host lets a widget see it.
 * @param {any} model @returns {any} */
function kernelOf(model) {
  try {
    return model.widget_manager.kernel;
  } catch {
    return null;
  }
}

/** @template [About=undefined] what a widget notes of a message until it is answered */
export class Link {
  /** @param {any} model
   * @param {{ hears?: (answer: any) => void, changes: () => void, loses?: () => void }} tells hears: what Python says
   * to this view; changes: it may have become silent, lost or heard again; loses: it is lost, `changes` if left out */
  constructor(model, { hears = () => {}, changes, loses = changes }) {
    this.model = model;
    this.view = Math.random().toString(36).slice(2);
    this.seq = 0; // the last message that was sent
    this.heard = 0; // the last one that was answered
    this.silent = false; // a message has waited too long
    this.lost = false; // Python no longer knows this widget: nothing that is told it from now on is done
    /** @type {Map<number, { since: number, about: About | undefined }>} */
    this.waiting = new Map(); // messages without an answer, by number
    this.timer = 0; // which notices silence
    this.changes = changes;
    /** @type {[string, (answer: any) => void][]} */
    this.listening = [
      ["msg:custom", (answer) => {
        if (answer.view !== this.view) return;
        if (Number.isInteger(answer.seq)) this.answered(answer.seq);
        hears(answer);
      }],
      ["comm_live_update", () => this.lose(loses)], // the host says that Python has let go of the widget
    ];
    for (const [name, hear] of this.listening) model.on(name, hear);
    /** @param {unknown} _ @param {string} status */
    this.watch = (_, status) => {
      if (LOST.has(status)) this.lose(loses);
    };
    this.status = kernelOf(model)?.statusChanged;
    this.status?.connect(this.watch);
  }

  /** Whether Python answers. */
  get connected() {
    return !this.silent && !this.lost;
  }

  /** @param {Record<string, any>} content @param {ArrayBuffer[]} [buffers] @param {About} [about]
   * @returns {number} the message's number */
  send(content, buffers = [], about) {
    this.seq += 1;
    this.waiting.set(this.seq, { since: performance.now(), about });
    if (!this.timer) this.listen(SILENCE_MS);
    this.model.send({ ...content, view: this.view, seq: this.seq }, undefined, buffers);
    return this.seq;
  }

  /** What was noted of the messages without an answer. */
  get unanswered() {
    return [...this.waiting.values()].map((each) => /** @type {About} */ (each.about));
  }

  /** Take note that all messages up to a number are answered.
   * @param {number} last */
  answered(last) {
    if (last > this.heard) {
      this.heard = last;
      this.lost = false;
    }
    for (const number of [...this.waiting.keys()]) if (number <= this.heard) this.waiting.delete(number);
    if ([...this.waiting.values()].every((each) => each.since > performance.now() - SILENCE_MS)) this.silent = false;
  }

  /** @param {() => void} loses */
  lose(loses) {
    if (this.lost) return;
    this.lost = true;
    loses();
  }

  /** @param {number} patience in milliseconds */
  listen(patience) {
    this.timer = setTimeout(() => {
      this.timer = 0;
      const oldest = Math.min(...[...this.waiting.values()].map((each) => each.since));
      if (!Number.isFinite(oldest)) return;
      const left = oldest + SILENCE_MS - performance.now();
      if (left > 0) {
        this.listen(left);
        return;
      }
      this.silent = true;
      this.changes();
      this.listen(SILENCE_MS);
    }, patience);
  }

  /** The view has ended: hear nothing more. */
  end() {
    clearTimeout(this.timer);
    this.status?.disconnect(this.watch);
    for (const [name, hear] of this.listening) this.model.off(name, hear);
  }
}
