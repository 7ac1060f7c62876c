// @ts-check
/** The painter's buttons: an icon and a word, which is the button's name whether it is seen or not. */

import { ICONS } from "./book/icons.js";
import { make } from "./elements.js";

/** @type {Map<string, SVGSVGElement>} */
const icons = new Map();

/** An icon, which says nothing to those who do not see it: the word beside it does.
 * @param {string} name */
export function iconOf(name) {
  if (!icons.has(name)) icons.set(name, iconDrawn(name));
  return /** @type {SVGSVGElement} */ (icons.get(name)?.cloneNode(true)); // far quicker than to read its text again
}

/** @param {string} name */
function iconDrawn(name) {
  const icon = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  icon.setAttribute("class", "mk-icon");
  icon.setAttribute("viewBox", "0 0 24 24");
  icon.setAttribute("aria-hidden", "true");
  icon.innerHTML = ICONS[name].replaceAll("> <", "><"); // a button has its word for its text, and nothing else
  return icon;
}

/** A word that a narrow page, or a compact button, keeps for those who hear it.
 * @param {string} text */
export const wordOf = (text) => make("span", { className: "mk-word" }, [text]);

/** A button with an icon and a word.
 * @param {string} icon @param {string} text @param {() => void} press @param {AbortSignal} signal
 * @param {{ hint?: string, compact?: boolean }} [how] compact: the word is not seen, but for the hint */
export function iconButton(icon, text, press, signal, how = {}) {
  const { hint = "", compact = false } = how;
  const made = make("button", { type: "button", title: hint || (compact ? text : "") }, [iconOf(icon), wordOf(text)]);
  made.classList.toggle("mk-compact", compact);
  made.addEventListener("click", press, { signal });
  return made;
}

/** A list to choose from.
 * @param {string} label @param {(readonly [string, string])[]} options */
export function list(label, options) {
  const made = make("select", {}, options.map(([name, text]) => make("option", { value: name }, [text])));
  made.setAttribute("aria-label", label);
  return made;
}

/** What is folded away under a word until it is asked for.
 * @param {string} text @param {(Node | string)[]} inside */
export function folded(text, inside) {
  return make("details", { className: "mk-fold" }, [
    make("summary", {}, [text, iconOf("down")]), make("div", { className: "mk-folded" }, inside),
  ]);
}
