// @ts-check
/** The painter by itself, in a cell. */

import { layPainter } from "./painter_page.js";

const render = layPainter;

export default { render };
