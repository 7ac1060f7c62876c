// @ts-check
/** The row guide in a notebook: Python keeps the place, and every message is answered, so that silence is noticed. */

import { guide } from "./guide_desk.js";
import { inTheBrowser } from "./guide_keeping.js";
import { Link } from "./link.js";

const UNKEPT = "Not connected to Python: steps taken now are not kept. Run the cell again to go on.";

/** A guide with no Python behind it, which goes on from where the notebook's was and is kept in the browser.
 * @param {{ model: any, el: HTMLElement }} given */
function leadAlone({ model, el }) {
  const browser = inTheBrowser(model.get("offline").key);
  const led = guide(el, model.get("data"), { ...browser, load: () => browser.load() ?? model.get("place") });
  if (browser.kept()) led.tell("Your place is kept on this device, in this browser.", "");
  else led.tell("", "This browser keeps nothing for this page, so note your place before you close it.");
  return () => led.stop();
}

/** @param {{ model: any, el: HTMLElement }} given */
function render({ model, el }) {
  if (model.get("offline")) return leadAlone({ model, el });
  let refused = "";
  /** @type {Link} */
  const link = new Link(model, { hears: hear, changes: tell });
  const led = guide(el, model.get("data"), {
    load: () => model.get("place"),
    save: (place) => link.send({ kind: "at", place }),
  });

  function tell() {
    led.tell(model.get("note"), link.connected ? refused || model.get("trouble") : UNKEPT);
  }

  /** @param {any} answer */
  function hear(answer) {
    refused = answer.error ?? "";
    tell();
    // the hand is ahead of what was heard until its last step is answered
    if (answer.seq === link.seq && answer.error) led.goTo(model.get("place"));
  }

  function follow() {
    if (link.waiting.size === 0) led.goTo(model.get("place"));
  }

  /** @type {[string, () => void][]} */
  const follows = [["place", follow], ["note", tell], ["trouble", tell]];
  for (const [trait, does] of follows) model.on(`change:${trait}`, does);
  tell();
  return () => {
    link.end();
    for (const [trait, does] of follows) model.off(`change:${trait}`, does);
    led.stop();
  };
}

export default { render };
