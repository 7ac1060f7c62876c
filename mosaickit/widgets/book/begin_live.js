// @ts-check
/** A question that is asked again while a hand moves: the next one is sent when the last is answered, and only the
 * latest of those that came in between. */
export class BeginLive {
  /** @param {(values: Record<string, any>) => Promise<any>} ask @param {(answer: any) => void} hear */
  constructor(ask, hear) {
    this.ask = ask;
    this.hear = hear;
    this.busy = false; // whether what was sent last is not answered yet, so that an answer was to something else
    /** @type {Record<string, any> | null} */
    this.next = null;
  }

  /** @param {Record<string, any>} values */
  async send(values) {
    this.next = values;
    if (this.busy) return;
    this.busy = true;
    while (this.next) {
      const now = this.next;
      this.next = null;
      this.hear(await this.ask(now));
    }
    this.busy = false;
  }
}
