// @ts-check
/** The painter where there is no Python: its picture, to be looked at, with what is the matter with it. Nothing paints. */

import { make } from "./elements.js";
import { iconButton, iconOf } from "./painter_buttons.js";
import { Drawing } from "./painter_drawing.js";
import { State } from "./painter_state.js";

/** @typedef {import("./painter_state.js").Kind} Kind */

/** A kind of finding; each place that is listed leads to its square.
 * @param {Kind} kind @param {(square: number) => void} jump @param {AbortSignal} signal */
function findingAlone({ severity, said, why, off, places, more }, jump, signal) {
  const listed = places.map(({ message, square }) => {
    const button = make("button", { type: "button" }, [message]);
    button.addEventListener("click", () => jump(square), { signal });
    return button;
  });
  const icon = iconOf(severity === "error" ? "wrong" : "advice");
  return make("li", { className: severity === "error" ? "mk-error" : "mk-minds" }, [
    make("details", { open: severity === "error" }, [
      make("summary", {}, [icon, make("span", {}, [off ? `${said}, switched off` : said])]), make("p", {}, [why]),
      make("div", { className: "mk-places" }, off ? [] : [...listed, more]),
    ]),
  ]);
}

/** Lay the picture of a painter into an element; gives what ends it.
 * @param {{ model: any, el: HTMLElement }} given */
export function layPicture({ model, el }) {
  const listening = new AbortController();
  const { signal } = listening;
  const state = new State(model);
  const { said, sheet } = state;
  state.focus = [-9, -9]; // beside the picture, until a finding leads to a square
  const canvas = make("canvas", { className: "mk-canvas mk-pan", role: "img" });
  canvas.setAttribute("aria-label", `${said.summary}.`);
  // a large picture scrolls, so it takes the keys
  const scroll = make("div", { className: "mk-scroll", tabIndex: 0, role: "group" }, [canvas]);
  scroll.setAttribute("aria-label", "Picture");
  const drawing = new Drawing(state, canvas, scroll);
  /** @param {number} square */
  const jump = (square) => {
    state.focus = [square % sheet.columns, Math.floor(square / sheet.columns)];
    drawing.drawFocus();
    drawing.showFocus();
  };
  /** @param {string} icon @param {string} text @param {number} factor */
  const zoom = (icon, text, factor) => iconButton(icon, text, () => drawing.zoom(factor), signal, { compact: true });
  const buttons = make("div", { className: "mk-group", role: "group" }, [
    zoom("smaller", "Smaller", 1 / 1.25), zoom("larger", "Larger", 1.25),
  ]);
  buttons.setAttribute("aria-label", "Zoom");
  const findings = make("ul", { className: "mk-findings", hidden: !said.findings.length },
    said.findings.map((kind) => findingAlone(kind, jump, signal)));
  findings.setAttribute("aria-label", "Findings");
  const second = make("div", { className: "mk-look" });
  second.innerHTML = model.get("look"); // a picture or a sentence, made by mosaickit's own svg module
  const tally = said.errors ? `Cannot be worked yet. Squares to mend: ${said.errors}.` : "Can be worked.";
  const page = make("div", { className: "mk-painter mk-picture-alone", role: "group" }, [
    make("div", { className: "mk-easel" }, [
      make("div", { className: "mk-main" }, [scroll, make("div", { className: "mk-below" }, [make("div"), buttons])]),
      make("div", { className: "mk-side" }, [
        make("div", { className: "mk-tally" }, [tally]), findings,
        make("div", { className: "mk-contrast" }, [sheet.contrast]), second,
      ]),
    ]),
  ]);
  page.setAttribute("aria-label", "Motif");
  el.append(page);
  drawing.unfitted = true;
  const showing = new ResizeObserver(() => drawing.unfitted && drawing.fit()); // once it has a width
  showing.observe(scroll);
  return () => {
    listening.abort();
    showing.disconnect();
  };
}
