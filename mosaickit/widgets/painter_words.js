// @ts-check
/** What the painter's controls are called: each by the name that Python knows it by, and by that which is shown. */

/** Tools: name, word, key and icon. */
export const TOOLS = /** @type {const} */ ([
  ["brush", "Brush", "b", "brush"],
  ["line", "Line", "l", "line"],
  ["box", "Box", "o", "box"],
  ["ellipse", "Ellipse", "e", "ellipse"],
  ["fill", "Fill", "f", "fill"],
  ["select", "Select", "s", "select"],
  ["lettering", "Letters", "t", "lettering"],
  ["stamp", "Stamps", "m", "stamp"],
  ["pan", "Pan", "p", "move"],
]);
/** The tools that lay what is in hand. */
export const LAYS = new Set(["lettering", "stamp"]);
/** What of lettering is chosen as a number. */
export const COUNTED = new Set(["size", "margin"]);
/** What is chosen of lettering: name, word, and the options, each with its word.
 * @type {[string, string, [string, string][]][]} */
export const LETTERINGS = [
  ["alphabet", "Alphabet", [
    ["capitals", "capitals: no mending"],
    ["tall", "tall: no mending"],
    ["small", "small: mended"],
    ["book", "book: mended"],
    ["large", "large: mended"],
  ]],
  ["size", "Size", Array.from({ length: 10 }, (_, at) => /** @type {[string, string]} */ ([String(at + 1), `size ${at + 1}`]))],
  ["colour", "Colour of the letters", [["CC", "letters in CC"], ["MC", "letters in MC"]]],
  ["way", "Way of the text", [["along", "along the row"], ["up", "up the side"], ["down", "down the side"]]],
  ["margin", "Ground around the letters", [["1", "1 row around"], ["2", "2 rows around"], ["3", "3 rows around"]]],
];
export const FOLLOW = /** @type {const} */ ([
  ["mirror", "Mirror"],
  ["up-down", "Up-down"],
  ["half-turn", "Half-turn"],
]);
/** What turns the selected part: name, word and icon. */
export const TURNS = /** @type {const} */ ([
  ["mirror", "Mirror it", "mirror"],
  ["up-down", "Turn it upside down", "up-down"],
  ["half-turn", "Turn it by half", "turn"],
]);
export const VIEWS = /** @type {const} */ ([
  ["none", "no second view"],
  ["front", "front face"],
  ["back", "back face"],
  ["gauge", "true proportion"],
  ["stitches", "stitches"],
  ["repeat", "repeated 3 × 3"],
]);
export const CHANGES = /** @type {const} */ ([
  ["mirror", "Mirror all"],
  ["up-down", "Up-down all"],
  ["half-turn", "Half-turn all"],
  ["counterchange", "Counterchange"],
  ["insert two rows", "Insert two rows: all else stays"],
  ["insert row", "Insert one row: rows above swap colours"],
  ["repeat two rows", "Repeat two rows: all else stays"],
  ["repeat row", "Repeat one row: may need mending"],
  ["delete two rows", "Delete two rows: all else stays"],
  ["delete row", "Delete one row: may need mending"],
  ["insert column", "Insert column"],
  ["delete column", "Delete column"],
  ["repeat column", "Repeat column"],
  ["clear", "Clear all"],
]);
export const HELP = [
  ["Arrows", "move the focus"],
  ["Space or Enter", "paint the square in focus; Enter accepts a preview"],
  ["Space twice", "with line, box or ellipse: set the first corner, then draw from it to the focus"],
  ["Shift + arrows", "paint along, or stretch the selection"],
  ["X", "take the other colour"],
  ["B, L, O, E, F, S, T, M, P", "brush, line, box, ellipse, fill, select, letters, stamps, pan"],
  ["Enter or Space", "with letters or a stamp: lay it, from the square in focus on"],
  ["C, K, V, Delete", "copy, cut, paste and clear the selection; drag it to move it"],
  ["N", "show the nearest workable picture"],
  ["Escape", "leave a preview, a first corner or a selection"],
  ["Ctrl Z, Ctrl Y", "undo, redo"],
  ["+ and −", "zoom"],
  ["?", "show or hide these keys"],
];
