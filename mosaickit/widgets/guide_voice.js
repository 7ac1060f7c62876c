// @ts-check
/** What a guide says for ears: in a line that screen readers follow and, if wanted, with a voice of this machine. */

export class Voice {
  /** @param {HTMLElement} live where what is said is written */
  constructor(live) {
    this.live = live;
    this.aloud = false;
  }

  /** @param {string} text */
  say(text) {
    this.live.textContent = text;
    if (this.aloud) this.utter(text);
  }

  /** @param {string} text */
  utter(text) {
    // voices on this machine: what is said goes to no network
    const voice = speechSynthesis.getVoices().find((each) => each.localService && each.lang.startsWith("en"));
    if (!voice) {
      this.live.textContent = `${text} (This browser has no English voice of its own to read it aloud.)`;
      return;
    }
    speechSynthesis.cancel();
    const spoken = new SpeechSynthesisUtterance(text);
    spoken.voice = voice;
    spoken.lang = voice.lang;
    speechSynthesis.speak(spoken);
  }

  /** Begin to read aloud, with what was said last, or stop.
   * @param {boolean} wanted @param {string} text */
  turn(wanted, text) {
    this.aloud = wanted && "speechSynthesis" in window;
    if (this.aloud) this.say(text);
    else if (wanted) this.live.textContent = "This browser cannot read aloud.";
    else this.stop();
  }

  stop() {
    if ("speechSynthesis" in window) speechSynthesis.cancel();
  }
}
