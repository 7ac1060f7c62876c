// @ts-check
/** The painter by itself, in a cell. */

import { layPicture } from "./painter_alone.js";
import { layPainter } from "./painter_page.js";

/** @param {{ model: any, el: HTMLElement }} given */
const render = (given) => (given.model.get("offline") ? layPicture(given) : layPainter(given));

export default { render };
