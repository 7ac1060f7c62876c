// @ts-check
/** The painter by itself, in a cell. */

import { layPainter } from "./painter_page.js";

export default { render: layPainter };
