// @ts-check
/**
 * What the workbook's page knows, in one place: what Python says of the design, and what the hand has entered or pressed
 * that Python has not answered yet. Whatever changes here has the page drawn again.
 */

import { layPainter } from "../painter_page.js";
import { Link } from "../link.js";

/**
 * @typedef {{ name: string, word: string, hint: string }} PanelWords
 * @typedef {{ panels: PanelWords[], open: string, title: string, undo: string, redo: string, kept: string,
 *   trouble: boolean }} Head
 * @typedef {{ word: string, about: string, rows: number, stitches: number, colours: string[], squares: any,
 *   aspect: number }} Squares
 * @typedef {{ counts: string, size: string, inches: string, wrong: { said: string, why: string, where: string } | null,
 *   advice: { kind: string, said: string, why: string }[],
 *   yarns: { name: string, colour: string, metres: string, band: string, skeins: string }[],
 *   faces: Squares[], note: string }} Ledger
 */

const TRAITS = ["head", "ledger", "panel", "said"];
const REST_MS = 1500;

export class BookState {
  /** @param {any} model @param {() => void} draw draws the page again */
  constructor(model, draw) {
    this.model = model;
    this.draw = draw;
    /** @type {Map<string, unknown>} */
    this.drafts = new Map(); // what is entered and not answered yet, by the entry's name
    /** @type {Map<string, string>} */
    this.faults = new Map(); // why what was entered could not be, by the entry's name
    /** @type {Map<number, (answer: any) => void>} */
    this.asked = new Map(); // who waits for which answer
    /** @type {Map<string, any>} */
    this.local = new Map(); // what a panel's page keeps to itself, such as what is typed before it is pressed
    this.link = new Link(model, { hears: (answer) => this.hear(answer), changes: draw });
    /** @type {HTMLElement | null} */
    this.painterPlace = null;
    this.endPainter = () => {};
    this.resting = 0;
    this.changed = () => {
      window.clearTimeout(this.resting);
      this.resting = window.setTimeout(async () => {
        await this.send({ kind: "still" });
        this.hideStill(true); // it is a new one
      }, REST_MS);
    };
    for (const name of TRAITS) model.on(`change:${name}`, draw);
    model.on("change:ledger", this.changed);
    this.hideStill(true);
  }

  /** Hide the still picture that the notebook keeps, as long as the workbook is alive.
   * @param {boolean} hidden */
  hideStill(hidden) {
    for (const each of document.getElementsByClassName(this.model.get("still"))) {
      /** @type {HTMLElement} */ (each).hidden = hidden;
    }
  }

  /** Whether there is no Python, as on a shared page. */
  get alone() {
    return Boolean(this.model.get("offline"));
  }

  /** @returns {Head} */
  get head() {
    return this.model.get("head");
  }

  /** @returns {Ledger} */
  get ledger() {
    return this.model.get("ledger");
  }

  /** What the open panel shows. @returns {any} */
  get panel() {
    return this.model.get("panel");
  }

  /** @returns {string} */
  get said() {
    return this.model.get("said");
  }

  /** Tell Python what was pressed; the promise is kept when it has answered, with its answer.
   * @param {Record<string, any>} content @param {ArrayBuffer[]} [buffers] @returns {Promise<any>} */
  send(content, buffers = []) {
    const number = this.link.send(content, buffers);
    this.draw();
    return new Promise((resolve) => this.asked.set(number, resolve));
  }

  /** Press something of the open panel.
   * @param {string} name @param {Record<string, any>} [values] @param {ArrayBuffer[]} [buffers] */
  async do(name, values = {}, buffers = []) {
    const answer = await this.send({ kind: "do", panel: this.panel.name, name, values }, buffers);
    this.local.set("error", answer.error ?? "");
    this.draw();
    return answer;
  }

  /** Ask a panel something that the hand has not pressed: what came of its last press stays said.
   * @param {string} panel @param {string} name @param {Record<string, any>} [values] @param {ArrayBuffer[]} [buffers]
   * @returns {Promise<any>} */
  ask(panel, name, values = {}, buffers = []) {
    return this.send({ kind: "ask", panel, name, values }, buffers);
  }

  /** Enter a value for one decision of the design.
   * @param {string} name @param {unknown} value */
  async enter(name, value) {
    this.drafts.set(name, value);
    const answer = await this.send({ kind: "set", name, value });
    if (answer.error) {
      this.faults.set(name, answer.error); // what was entered stays, to be put right
    } else {
      this.faults.delete(name);
      if (this.drafts.get(name) === value) this.drafts.delete(name);
    }
    this.draw();
  }

  /** @param {string} panel */
  async open(panel) {
    this.local.clear();
    this.drafts.clear();
    this.faults.clear();
    await this.send({ kind: "open", panel });
  }

  /** @param {"undo" | "redo" | "mend"} kind */
  async press(kind) {
    this.drafts.clear();
    this.faults.clear();
    const answer = await this.send({ kind });
    this.local.set("error", answer.error ?? "");
    this.draw();
  }

  /** @param {any} answer */
  hear(answer) {
    const waits = this.asked.get(answer.seq);
    this.asked.delete(answer.seq);
    waits?.(answer);
    this.draw();
  }

  /** The place of the painter, which stays as it is while other panels are open.
   * @returns {HTMLElement} */
  get painter() {
    if (this.painterPlace) return this.painterPlace;
    const place = document.createElement("div");
    this.painterPlace = place;
    const id = String(this.model.get("painter")).replace("IPY_MODEL_", "");
    this.model.widget_manager.get_model(id).then((/** @type {any} */ model) => {
      this.endPainter = layPainter({ model, el: place });
    }, () => {
      place.textContent = "The painter is here while Python runs: run the cell in a notebook.";
    });
    return place;
  }

  end() {
    window.clearTimeout(this.resting);
    this.hideStill(false);
    this.model.off("change:ledger", this.changed);
    this.link.end();
    this.endPainter();
    for (const name of TRAITS) this.model.off(`change:${name}`, this.draw);
  }
}
