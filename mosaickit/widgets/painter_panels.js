// @ts-check
/** What the painter's page is made of, and what each part of it shows of what Python says. */

import { make } from "./elements.js";
import { wordOf } from "./painter_buttons.js";
import { controlsOf } from "./painter_controls.js";
import { Chest } from "./painter_chest.js";
import { Findings } from "./painter_findings.js";
import { HELP, TOOLS } from "./painter_words.js";

/**
 * @typedef {import("./painter_controls.js").Does} Does
 * @typedef {import("./painter_state.js").State} State
 * @typedef {import("./painter_talk.js").Talk} Talk
 */

const GONE = "Not connected to Python: nothing painted now would be kept. In a notebook, run the cell again to go on.";
const LATE = "Python is busy. Go on: what you do is kept here in order, and done when Python answers.";

/** A table of the keys. */
function helpTable() {
  return make("table", { className: "mk-help", hidden: true }, [
    make("caption", {}, ["Keys, while the picture has the focus"]),
    ...HELP.map(([key, does]) => make("tr", {}, [make("th", { scope: "row" }, [key]), make("td", {}, [does])])),
  ]);
}

export class Panels {
  /** @param {State} state @param {Does} does @param {AbortSignal} signal */
  constructor(state, does, signal) {
    this.state = state;
    this.does = does;
    this.signal = signal;
    this.controls = controlsOf(does, signal);
    /** @type {HTMLCanvasElement} */
    this.canvas = make("canvas", { tabIndex: 0, className: "mk-canvas", role: "application" });
    this.scroll = make("div", { className: "mk-scroll" }, [this.canvas]);
    this.banner = make("div", { className: "mk-banner", role: "alert", hidden: true });
    this.focusText = make("div", { className: "mk-focus", role: "status" });
    this.findings = new Findings(does, signal);
    this.chest = new Chest(state, does, signal);
    this.contrast = make("div", { className: "mk-contrast" });
    this.note = make("div", { className: "mk-note", role: "status" });
    this.previewText = make("span");
    this.preview = make("div", { className: "mk-preview", role: "status", hidden: true }, [
      this.previewText, this.controls.accept, this.controls.leave,
    ]);
    this.second = make("div", { className: "mk-look" });
    this.help = helpTable();
    const side = [...this.findings.parts, this.contrast, this.second];
    this.page = make("div", { className: "mk-painter", role: "group" }, [
      make("div", { className: "mk-easel" }, [
        this.banner, this.controls.tooling, this.chest.page, this.controls.rest, this.preview, this.help,
        make("div", { className: "mk-main" }, [
          this.scroll,
          make("div", { className: "mk-below" }, [make("div", {}, [this.focusText, this.note]), this.controls.zoom]),
        ]),
        make("div", { className: "mk-side" }, side),
      ]),
    ]);
    this.page.setAttribute("aria-label", "Motif painter");
  }

  turnHelp() {
    this.help.hidden = !this.help.hidden;
  }

  /** @param {string} name */
  takeTool(name) {
    this.state.tool = name;
    this.canvas.classList.toggle("mk-pan", name === "pan");
    TOOLS.forEach(([each], number) => this.controls.tools[number].setAttribute("aria-pressed", String(each === name)));
    this.chest.show(name);
  }

  /** @param {number} number */
  takeColour(number) {
    this.state.colour = number;
    this.controls.colours.forEach((each, at) => each.setAttribute("aria-pressed", String(at === number)));
  }

  takeSheet() {
    const { sheet } = this.state;
    this.controls.colours.forEach((each, number) => {
      const ink = make("span", { className: "mk-ink" });
      ink.style.background = sheet.inks[number][sheet.rows - 1];
      const [role, name] = sheet.roles[number].split(/(?=: )/);
      each.replaceChildren(ink, make("span", {}, [role, wordOf(name)])); // a narrow page shows MC and CC
    });
  }

  /** What was painted here and is not answered yet can be undone too.
   * @param {Talk} talk */
  showSteps(talk) {
    const { said } = this.state;
    this.controls.undo.disabled = !said.undo && !talk.undone;
    this.controls.redo.disabled = !said.redo && !talk.undone;
  }

  /** @param {Talk} talk */
  tellTrouble(talk) {
    const { banner } = this;
    const { lost, undone: count } = talk;
    const things = count === 1 ? "The last thing you did is" : `The last ${count} things you did are`;
    const waits = !lost && talk.link.silent && count > 0;
    if (lost) banner.textContent = count ? `${GONE} ${things} not in the file.` : GONE;
    else if (waits) banner.textContent = `${LATE} ${things} not in the file yet. If this stays, run the cell again.`;
    else banner.textContent = this.state.said.trouble;
    banner.classList.toggle("mk-late", waits);
    banner.hidden = !banner.textContent;
    this.page.classList.toggle("mk-offline", lost);
  }

  /** Show what is in hand, unless something else was taken since.
   * @param {Talk} talk */
  takeHeld(talk) {
    if (talk.taking) return;
    this.state.inHand = this.state.held.rows ? this.state.held : null;
    this.chest.takeHeld();
  }

  /** Show the settings as Python has them, but for those that were changed here since.
   * @param {Talk} talk */
  takeSettings(talk) {
    const { said } = this.state;
    const { claims } = talk;
    const { follow, across, up, only, hand } = this.controls;
    this.showSteps(talk);
    this.tellTrouble(talk);
    for (const { name, box } of follow) if (!claims.has(name)) box.checked = said[name];
    if (!claims.has("across")) across.value = String(said.across);
    if (!claims.has("up")) up.value = String(said.up);
    if (!claims.has("only_workable")) only.checked = said.only_workable;
    this.findings.takeTicks(said, claims);
    if (!claims.has("hand")) hand.checked = said.hand === "left";
  }

  takeSentences() {
    const { said, sheet } = this.state;
    this.canvas.setAttribute("aria-label", `${said.summary}. Arrows move, space paints, question mark lists the keys.`);
    this.contrast.textContent = sheet.contrast;
    this.findings.take(said);
    this.controls.undo.title = said.undo ? `Undo: ${said.undo}` : "Nothing to undo";
    this.controls.redo.title = said.redo ? `Redo: ${said.redo}` : "Nothing to redo";
    this.preview.hidden = !said.preview;
    this.previewText.textContent = said.preview;
    this.note.textContent = said.note;
  }

  /** @param {string} look a picture or a sentence, made by mosaickit's own svg module, which escapes all text */
  takeLook(look) {
    this.second.innerHTML = look;
  }
}
