// @ts-check
/** What is the matter with the picture: errors first, each kind of finding folded to a line that can be switched off. */

import { make } from "./elements.js";
import { iconButton, iconOf } from "./painter_buttons.js";

/**
 * @typedef {import("./painter_controls.js").Does} Does
 * @typedef {import("./painter_state.js").Kind} Kind
 * @typedef {import("./painter_state.js").Said} Said
 * @typedef {{ line: HTMLElement, said: HTMLElement, places: HTMLElement, tick: HTMLInputElement, listed: string }} Line
 */

export class Findings {
  /** @param {Does} does @param {AbortSignal} signal */
  constructor(does, signal) {
    this.does = does;
    this.signal = signal;
    /** @type {Map<string, Line>} */
    this.lines = new Map(); // by rule; a line that is unfolded stays so while the picture changes
    this.tally = make("div", { className: "mk-tally", role: "status" });
    this.cure = iconButton("mend", "Mend these", () => does.inTurn(() => does.act("nearest")), signal, {
      hint: "Show the nearest picture that can be worked, to take or to leave",
    });
    this.list = make("ul", { className: "mk-findings" });
    this.list.setAttribute("aria-label", "Findings");
    this.off = make("div", { className: "mk-off" });
  }

  /** What is laid into the page, in this order. */
  get parts() {
    return [this.tally, this.cure, this.list, this.off];
  }

  /** @param {Said} said */
  take({ findings, errors }) {
    this.tally.textContent = errors ? `Cannot be worked yet. Squares to mend: ${errors}.` : "Can be worked.";
    this.cure.hidden = !errors;
    const rules = findings.map(({ rule }) => rule);
    const changed = rules.join() !== [...this.lines.keys()].join(); // a line that is moved would lose the focus
    const before = this.lines;
    this.lines = new Map(findings.map((kind) => [kind.rule, before.get(kind.rule) ?? this.lineOf(kind)]));
    for (const kind of findings) this.show(kind);
    if (changed) this.list.replaceChildren(...[...this.lines.values()].map(({ line }) => line));
    this.list.hidden = !findings.length;
    const off = findings.filter((kind) => kind.off).map(({ rule }) => rule);
    this.off.textContent = off.length ? `Switched off, so neither listed nor marked: ${off.join(", ")}.` : "";
  }

  /** Show which kinds Python has switched on; not while it has still to hear of a switch that was pressed here.
   * @param {Said} said @param {Map<string, number>} claims */
  takeTicks({ findings }, claims) {
    if (claims.has("switch off") || claims.has("switch on")) return;
    for (const { rule, off } of findings) {
      const tick = this.lines.get(rule)?.tick;
      if (tick) tick.checked = !off;
    }
  }

  /** @param {Kind} kind @returns {Line} */
  lineOf({ rule, severity, why, off }) {
    const said = make("span");
    const places = make("div", { className: "mk-places" });
    const tick = make("input", { type: "checkbox", checked: !off });
    tick.addEventListener("change", () => this.does.set(tick.checked ? "switch on" : "switch off", rule), {
      signal: this.signal,
    });
    const icon = iconOf(severity === "error" ? "wrong" : "advice");
    const fold = make("details", { open: severity === "error" }, [
      make("summary", {}, [icon, said]), make("p", {}, [why]), make("label", {}, [tick, "List and mark these"]), places,
    ]);
    return { line: make("li", { className: severity === "error" ? "mk-error" : "mk-minds" }, [fold]), said, places, tick, listed: "" };
  }

  /** @param {Kind} kind */
  show({ rule, said, off, places, more }) {
    const line = this.lines.get(rule);
    if (!line) return;
    line.said.textContent = off ? `${said}, switched off` : said;
    line.places.hidden = off;
    const listed = JSON.stringify([places, more]);
    if (listed === line.listed) return;
    line.listed = listed;
    line.places.replaceChildren(...places.map(({ message, square }) => {
      const jump = make("button", { type: "button" }, [message]);
      jump.addEventListener("click", () => this.does.inTurn(() => this.does.jump(square)), { signal: this.signal });
      return jump;
    }), more);
  }
}
