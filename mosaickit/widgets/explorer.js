// @ts-check
/**
 * A wall of pictures to move about on. Which pictures there are, and what becomes of what was pressed, comes from
 * Python; the page knows only where each one hangs.
 */

import { ExplorerBar } from "./explorer_bar.js";
import { HandAlone, HandWithPython } from "./explorer_hands.js";
import { ExplorerPreview, ExplorerWall } from "./explorer_wall.js";
import { make } from "./elements.js";

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  const said = make("p", { role: "status" });
  const speak = () => {
    said.textContent = hand.said;
  };
  /** @type {HandAlone | HandWithPython} */
  const hand = model.get("offline") ? new HandAlone(model) : new HandWithPython(model, speak);
  const bar = new ExplorerBar(hand, model.get("sorts"));
  const wall = new ExplorerWall(model, hand);
  const preview = new ExplorerPreview(model);
  const body = make("div", { className: "mk-body" }, [wall.page, preview.page]);
  el.append(make("div", { className: "mk-explorer" }, [bar.page, said, body]));

  const hang = () => wall.hang();
  const mark = () => wall.mark();
  const show = () => preview.show();
  /** @type {[string, () => void][]} */
  const follows = [["tiles", hang], ["picked", mark], ["pinned", mark], ["preview", show], ["said", speak]];
  for (const [trait, act] of follows) model.on(`change:${trait}`, act);
  hang();
  show();
  speak();
  return () => {
    hand.end();
    for (const [trait, act] of follows) model.off(`change:${trait}`, act);
  };
}

export default { render };
