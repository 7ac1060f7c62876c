// @ts-check
/**
 * The hand of the painter: what was pressed, drawn at once, told to Python, and Python's answer drawn over it.
 *
 * Nothing of the craft is known here. Which colour a square would have, which squares are to be hatched, what is
 * the matter with them, how they are numbered and which squares follow the hand: all of it comes from Python.
 * Squares are numbered as seen, row by row from the top left; 0 is MC, 1 is CC.
 */

/**
 * @typedef {{ sx: number, ox: number, sy: number, oy: number, swap: boolean }} Echo
 * A square that follows the hand: (x, y) goes to (sx * x + ox, sy * y + oy), in the other colour if `swap`.
 *
 * @typedef {{
 *   rows: number, columns: number,
 *   row_numbers: number[], stitch_numbers: number[], edge: "left" | "right",
 *   heavy_rows: number[], heavy_columns: number[],
 *   inks: [string[], string[]], row_inks: string[], roles: [string, string],
 *   echoes: Echo[], contrast: string,
 * }} Sheet
 *
 * @typedef {{ severity: string, message: string, square: number }} Finding
 *
 * @typedef {{
 *   summary: string, findings: Finding[], errors: number, advice: number, undo: string, redo: string,
 *   preview: string, note: string, trouble: string, only_workable: boolean, follow: string[],
 *   repeat_across: number, repeat_up: number, hand: string,
 * }} Said
 */

/** The squares on a straight line between two squares, both included, without gaps.
 * @param {number} x0 @param {number} y0 @param {number} x1 @param {number} y1
 * @returns {[number, number][]} */
export function lineSquares(x0, y0, x1, y1) {
  const steps = Math.max(Math.abs(x1 - x0), Math.abs(y1 - y0));
  /** @type {[number, number][]} */
  const squares = [];
  for (let step = 0; step <= steps; step++) {
    const part = steps === 0 ? 0 : step / steps;
    squares.push([Math.round(x0 + (x1 - x0) * part), Math.round(y0 + (y1 - y0) * part)]);
  }
  return squares;
}

/** All squares of the box between two corners.
 * @param {number} x0 @param {number} y0 @param {number} x1 @param {number} y1
 * @returns {[number, number][]} */
export function boxSquares(x0, y0, x1, y1) {
  /** @type {[number, number][]} */
  const squares = [];
  for (let y = Math.min(y0, y1); y <= Math.max(y0, y1); y++) {
    for (let x = Math.min(x0, x1); x <= Math.max(x0, x1); x++) squares.push([x, y]);
  }
  return squares;
}

/** The squares of one colour that hang together with a square, edge to edge.
 * @param {Uint8Array} cells @param {number} columns @param {number} x @param {number} y
 * @returns {[number, number][]} */
export function fillSquares(cells, columns, x, y) {
  const rows = cells.length / columns;
  const colour = cells[y * columns + x];
  const seen = new Uint8Array(cells.length);
  seen[y * columns + x] = 1;
  /** @type {[number, number][]} */
  const found = [[x, y]];
  for (let at = 0; at < found.length; at++) {
    const [fx, fy] = found[at];
    for (const [nx, ny] of [[fx - 1, fy], [fx + 1, fy], [fx, fy - 1], [fx, fy + 1]]) {
      if (nx < 0 || ny < 0 || nx >= columns || ny >= rows) continue;
      const index = ny * columns + nx;
      if (seen[index] || cells[index] !== colour) continue;
      seen[index] = 1;
      found.push([nx, ny]);
    }
  }
  return found;
}

/** The squares that follow the hand, with their colours. Where two would differ, the first one counts.
 * @param {[number, number][]} squares @param {number} colour @param {Echo[]} echoes
 * @param {number} columns @param {number} rows
 * @returns {Map<number, number>} */
export function withEchoes(squares, colour, echoes, columns, rows) {
  /** @type {Map<number, number>} */
  const painted = new Map();
  for (const echo of echoes) {
    for (const [x, y] of squares) {
      const ex = echo.sx * x + echo.ox;
      const ey = echo.sy * y + echo.oy;
      if (ex < 0 || ey < 0 || ex >= columns || ey >= rows) continue;
      const index = ey * columns + ex;
      if (!painted.has(index)) painted.set(index, echo.swap ? 1 - colour : colour);
    }
  }
  return painted;
}

/** The square under a point of the canvas, or null beside the picture.
 * @param {number} px @param {number} py @param {{ left: number, top: number, side: number }} frame
 * @param {number} columns @param {number} rows
 * @returns {[number, number] | null} */
export function squareAt(px, py, frame, columns, rows) {
  const x = Math.floor((px - frame.left) / frame.side);
  const y = Math.floor((py - frame.top) / frame.side);
  return x < 0 || y < 0 || x >= columns || y >= rows ? null : [x, y];
}

/** Whether a square lies in a box, given by its least and greatest x and y.
 * @param {[number, number]} square @param {[number, number, number, number]} box
 * @returns {boolean} */
export function within([x, y], [x0, y0, x1, y1]) {
  return x >= x0 && x <= x1 && y >= y0 && y <= y1;
}

/** Which numbers there is room for: 1 and every so many.
 * @param {number} side @param {number} room @returns {number} */
export function numberStep(side, room) {
  return [1, 5, 10, 20, 50, 100].find((step) => Math.max(step - 1, 1) * side >= room) ?? 100;
}

/** What Python sent as bytes, as a Uint8Array of its own, whatever the notebook wraps it in.
 * @param {any} sent @returns {Uint8Array} */
export function bytesOf(sent) {
  if (!sent) return new Uint8Array(0);
  return new Uint8Array(sent.buffer ?? sent, sent.byteOffset ?? 0, sent.byteLength).slice();
}

const TOOLS = /** @type {const} */ ([
  ["brush", "Brush", "b"],
  ["line", "Line", "l"],
  ["box", "Box", "o"],
  ["fill", "Fill", "f"],
  ["select", "Select", "s"],
  ["pan", "Pan", "p"],
]);
const FOLLOW = /** @type {const} */ ([
  ["mirror", "Mirror"],
  ["up-down", "Up-down"],
  ["half-turn", "Half-turn"],
]);
const VIEWS = /** @type {const} */ ([
  ["none", "no second view"],
  ["front", "front face"],
  ["back", "back face"],
  ["gauge", "true proportion"],
  ["stitches", "stitches"],
  ["repeat", "repeated 3 × 3"],
]);
const CHANGES = /** @type {const} */ ([
  ["mirror", "Mirror all"],
  ["up-down", "Up-down all"],
  ["half-turn", "Half-turn all"],
  ["counterchange", "Counterchange"],
  ["insert row", "Insert row"],
  ["insert two rows", "Insert two rows"],
  ["delete row", "Delete row"],
  ["delete two rows", "Delete two rows"],
  ["repeat row", "Repeat row"],
  ["insert column", "Insert column"],
  ["delete column", "Delete column"],
  ["repeat column", "Repeat column"],
  ["clear", "Clear all"],
]);
const HELP = [
  ["Arrows", "move the focus"],
  ["Space or Enter", "paint the square in focus; Enter accepts a preview"],
  ["Shift + arrows", "paint along, or stretch the selection"],
  ["X", "take the other colour"],
  ["B, L, O, F, S, P", "brush, line, box, fill, select, pan"],
  ["C, K, V, Delete", "copy, cut, paste and clear the selection; drag it to move it"],
  ["N", "show the nearest workable picture"],
  ["Escape", "leave a preview or a selection"],
  ["Ctrl Z, Ctrl Y", "undo, redo"],
  ["+ and −", "zoom"],
  ["?", "show or hide these keys"],
];
const SILENCE_MS = 2000;

/** @param {string} kind @param {Record<string, any>} [set] @param {(Node | string)[]} [inside] @returns {any} */
function make(kind, set = {}, inside = []) {
  const element = document.createElement(kind);
  for (const [name, value] of Object.entries(set)) {
    if (name in element && name !== "list") /** @type {any} */ (element)[name] = value;
    else element.setAttribute(name, value);
  }
  element.append(...inside);
  return element;
}

/** @param {{ model: any, el: HTMLElement }} given */
function render({ model, el }) {
  const listening = new AbortController();
  const { signal } = listening;
  const view = Math.random().toString(36).slice(2);
  let seq = 0;
  /** @type {Map<number, number>} */
  const waiting = new Map(); // messages without an answer, by number: the timer that notices
  let connected = true;

  let cells = bytesOf(model.get("cells"));
  let marks = bytesOf(model.get("marks"));
  let ghost = bytesOf(model.get("ghost"));
  /** @type {Sheet} */ let sheet = model.get("sheet");
  /** @type {Said} */ let said = model.get("said");

  let tool = "brush";
  let colour = 1;
  let side = 12; // until there is a width to fit the picture into
  let focus = /** @type {[number, number]} */ ([sheet.edge === "right" ? sheet.columns - 1 : 0, sheet.rows - 1]);
  /** @type {{ start: [number, number], last: [number, number], before: Uint8Array, colour: number,
   *   painted: Map<number, number> } | null} */
  let stroke = null;
  /** @type {[number, number, number, number] | null} */
  let selection = null; // corners, both included
  /** @type {{ width: number, height: number, cells: Uint8Array } | null} */
  let copied = null;
  /** @type {{ from: [number, number, number, number], cells: Uint8Array, grasped: [number, number] } | null} */
  let carried = null; // a selection on its way, and where the hand grasped it

  // ---- the page -----------------------------------------------------------------------------------------

  /** @type {HTMLCanvasElement} */
  const canvas = make("canvas", { tabIndex: 0, className: "mk-canvas", role: "application" });
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  const scroll = make("div", { className: "mk-scroll" }, [canvas]);
  const banner = make("div", { className: "mk-banner", role: "alert", hidden: true });
  const focusText = make("div", { className: "mk-focus", role: "status" });
  const findings = make("ul", { className: "mk-findings", tabIndex: 0 });
  findings.setAttribute("aria-label", "Findings");
  const tally = make("div", { className: "mk-tally" });
  const note = make("div", { className: "mk-note", role: "status" });
  const preview = make("div", { className: "mk-preview", role: "status", hidden: true });
  const second = make("div", { className: "mk-look" });
  const help = make("table", { className: "mk-help", hidden: true }, [
    make("caption", {}, ["Keys, while the picture has the focus"]),
    ...HELP.map(([key, does]) => make("tr", {}, [make("th", { scope: "row" }, [key]), make("td", {}, [does])])),
  ]);

  /** @param {string} text @param {() => void} press @param {string} [hint] */
  const button = (text, press, hint) => {
    const made = make("button", { type: "button", title: hint ?? "" }, [text]);
    made.addEventListener("click", press, { signal });
    return made;
  };
  const toolButtons = TOOLS.map(([name, text, key]) => button(text, () => takeTool(name), `Key ${key.toUpperCase()}`));
  const colourButtons = [0, 1].map((number) => button("", () => takeColour(number), "Key X takes the other colour"));
  const undoButton = button("Undo", () => act("undo"));
  const redoButton = button("Redo", () => act("redo"));
  const followBoxes = FOLLOW.map(([name, text]) => {
    const box = make("input", { type: "checkbox" });
    box.addEventListener("change", () => setFollow(), { signal });
    return { name, box, label: make("label", {}, [box, text]) };
  });
  const acrossBox = make("input", { type: "number", min: "0", max: "999", value: "0" });
  const upBox = make("input", { type: "number", min: "0", max: "999", value: "0" });
  for (const box of [acrossBox, upBox]) box.addEventListener("change", () => setFollow(), { signal });
  const onlyBox = make("input", { type: "checkbox" });
  onlyBox.addEventListener("change", () => setFollow(), { signal });
  const handBox = make("input", { type: "checkbox" });
  handBox.addEventListener("change", () => setFollow(), { signal });
  const viewBox = make("select", {}, VIEWS.map(([name, text]) => make("option", { value: name }, [text])));
  viewBox.addEventListener("change", () => send({ kind: "look", at: viewBox.value }), { signal });
  viewBox.setAttribute("aria-label", "Second view");
  const changeBox = make("select", {}, [
    make("option", { value: "" }, ["Change all…"]),
    ...CHANGES.map(([name, text]) => make("option", { value: name }, [text])),
  ]);
  changeBox.setAttribute("aria-label", "Change the whole picture");
  changeBox.addEventListener(
    "change",
    () => {
      if (changeBox.value) act(changeBox.value);
      changeBox.value = "";
    },
    { signal },
  );
  const acceptButton = button("Accept", () => act("accept"), "Key Enter");
  const leaveButton = button("Leave", () => act("leave"), "Key Escape");
  const previewText = make("span");
  preview.append(previewText, acceptButton, leaveButton);

  const groups = [
    ["Tools", toolButtons],
    ["Colour", colourButtons],
    ["Steps", [undoButton, redoButton]],
    ["Nearest", [button("Nearest workable", () => act("nearest"), "Key N")]],
    ["View", [button("−", () => zoom(1 / 1.25), "Zoom out"), button("+", () => zoom(1.25), "Zoom in"), viewBox]],
    ["Selection", [button("Copy", copy, "Key C"), button("Cut", cut, "Key K"), button("Paste", paste, "Key V")]],
    ["Picture", [changeBox]],
    ["What follows the hand", ["Paint also:", ...followBoxes.map((each) => each.label)]],
    ["Repeats that follow the hand", [make("label", {}, ["Repeat every", acrossBox, "stitches"]),
      make("label", {}, ["and every", upBox, "rows"])]],
    ["Help", [make("label", {}, [onlyBox, "only what can be worked"]), make("label", {}, [handBox, "left-handed"]),
      button("?", () => (help.hidden = !help.hidden), "Keys")]],
  ];
  const bar = make("div", { className: "mk-bar" }, groups.map(([name, parts]) => {
    const group = make("div", { className: "mk-group", role: "group" }, /** @type {any} */ (parts));
    group.setAttribute("aria-label", /** @type {string} */ (name));
    return group;
  }));
  const page = make("div", { className: "mk-painter", role: "group" }, [
    banner, bar, preview, help,
    make("div", { className: "mk-body" }, [
      make("div", { className: "mk-main" }, [scroll, focusText]),
      make("div", { className: "mk-side" }, [tally, findings, second, note]),
    ]),
  ]);
  page.setAttribute("aria-label", "Motif painter");
  el.append(page);

  // ---- talking to Python ----------------------------------------------------------------------------------

  /** @param {Record<string, any>} content @param {ArrayBuffer[]} [buffers] */
  function send(content, buffers = []) {
    seq += 1;
    const number = seq;
    waiting.set(number, window.setTimeout(() => setConnected(false), SILENCE_MS));
    model.send({ ...content, view, seq: number }, undefined, buffers);
  }

  /** @param {string} name @param {Record<string, any>} [more] */
  function act(name, more = {}) {
    if (!connected) return;
    send({ kind: "act", name, x: focus[0], y: focus[1], ...more });
  }

  /** @param {boolean} now */
  function setConnected(now) {
    connected = now;
    page.classList.toggle("mk-offline", !now);
    tellTrouble();
  }

  function tellTrouble() {
    const lost = "Not connected to Python: nothing painted now would be kept. In a notebook, run the cell again to go on.";
    banner.textContent = connected ? said.trouble : lost;
    banner.hidden = !banner.textContent;
  }

  /** @param {any} answer */
  function hear(answer) {
    if (answer.view !== view) return;
    for (const [number, timer] of waiting) {
      if (number > answer.seq) continue;
      window.clearTimeout(timer);
      waiting.delete(number);
    }
    if (!connected) setConnected(true);
    if (answer.kind === "told") focusText.textContent = answer.sentence;
    if (answer.error) note.textContent = answer.error;
    // what was painted here and not kept there is taken back: Python's cells are the picture
    if (answer.seq === seq && !stroke) takePicture();
  }

  let picturesDue = false;

  /** Squares, marks and preview come in one message and are looked through once. */
  function takePictureSoon() {
    if (picturesDue) return;
    picturesDue = true;
    queueMicrotask(() => {
      picturesDue = false;
      if (!stroke) takePicture();
    });
  }

  function takePicture() {
    const before = { cells, marks, ghost };
    cells = bytesOf(model.get("cells"));
    marks = bytesOf(model.get("marks"));
    ghost = bytesOf(model.get("ghost"));
    if (cells.length !== before.cells.length) return drawAll();
    for (let index = 0; index < cells.length; index++) {
      if (cells[index] !== before.cells[index] || marks[index] !== before.marks[index] || ghost[index] !== before.ghost[index])
        drawSquare(index % sheet.columns, Math.floor(index / sheet.columns));
    }
    drawFocus();
  }

  // ---- drawing --------------------------------------------------------------------------------------------

  const frame = { left: 0, top: 4, side };

  function drawAll() {
    const { rows, columns } = sheet;
    const margin = 14 + 7 * String(rows).length + 10;
    frame.side = side;
    frame.left = sheet.edge === "left" ? margin : 4;
    const width = columns * side + margin + 8;
    const height = rows * side + 24;
    const sharp = window.devicePixelRatio || 1;
    canvas.width = width * sharp;
    canvas.height = height * sharp;
    canvas.style.width = `${width}px`;
    canvas.style.height = `${height}px`;
    pen.setTransform(sharp, 0, 0, sharp, 0, 0);
    pen.fillStyle = "#ffffff";
    pen.fillRect(0, 0, width, height);
    for (let y = 0; y < rows; y++) for (let x = 0; x < columns; x++) drawSquare(x, y);
    drawNumbers();
    drawFocus();
  }

  function drawNumbers() {
    const { rows, columns } = sheet;
    pen.font = "10px sans-serif";
    pen.textBaseline = "middle";
    const atLeft = sheet.edge === "left";
    const barAt = atLeft ? frame.left - 12 : frame.left + columns * side + 4;
    const everyRow = numberStep(side, 11);
    for (let y = 0; y < rows; y++) {
      pen.fillStyle = sheet.row_inks[y];
      pen.fillRect(barAt, frame.top + y * side, 8, side);
      const number = sheet.row_numbers[y];
      if (number !== 1 && number % everyRow) continue;
      pen.fillStyle = "#222222";
      pen.textAlign = atLeft ? "right" : "left";
      pen.fillText(String(number), atLeft ? barAt - 4 : barAt + 12, frame.top + (y + 0.5) * side);
    }
    pen.strokeStyle = "#555555";
    pen.lineWidth = 1;
    pen.strokeRect(barAt + 0.5, frame.top + 0.5, 7, rows * side - 1);
    pen.textAlign = "center";
    pen.fillStyle = "#222222";
    const everyStitch = numberStep(side, 7 * String(columns).length + 4);
    for (let x = 0; x < columns; x++) {
      const number = sheet.stitch_numbers[x];
      if (number === 1 || number % everyStitch === 0)
        pen.fillText(String(number), frame.left + (x + 0.5) * side, frame.top + rows * side + 9);
    }
  }

  /** @param {number} x @param {number} y */
  function drawSquare(x, y) {
    const index = y * sheet.columns + x;
    const left = frame.left + x * side;
    const top = frame.top + y * side;
    pen.fillStyle = sheet.inks[cells[index]][y];
    pen.fillRect(left, top, side, side);
    pen.fillStyle = "#8a8a8a";
    pen.fillRect(left, top, side, sheet.heavy_rows.includes(y) ? 2 : 0.5);
    pen.fillRect(left, top, sheet.heavy_columns.includes(x) ? 2 : 0.5, side);
    if (marks[index] === 2) hatch(left, top);
    else if (marks[index] === 1) dots(left, top);
    if (ghost[index]) star(left, top);
  }

  /** @param {number} left @param {number} top */
  function hatch(left, top) {
    for (const [ink, width] of /** @type {[string, number][]} */ ([["#ffffff", 3], ["#000000", 1.2]])) {
      pen.strokeStyle = ink;
      pen.lineWidth = width;
      pen.beginPath();
      for (const part of [0.35, 0.7, 1]) {
        pen.moveTo(left + 1, top + part * side - 1);
        pen.lineTo(left + part * side - 1, top + 1);
      }
      pen.moveTo(left + 0.5 * side, top + side - 1);
      pen.lineTo(left + side - 1, top + 0.5 * side);
      pen.stroke();
    }
  }

  /** @param {number} left @param {number} top */
  function dots(left, top) {
    const dot = Math.max(1, side / 10);
    for (const part of [0.25, 0.5, 0.75]) {
      pen.fillStyle = "#ffffff";
      pen.fillRect(left + part * side - dot, top + side - 3 * dot, 2 * dot, 2 * dot);
      pen.fillStyle = "#000000";
      pen.fillRect(left + part * side - dot / 2, top + side - 2.5 * dot, dot, dot);
    }
  }

  /** @param {number} left @param {number} top */
  function star(left, top) {
    pen.fillStyle = "#ffffff";
    pen.strokeStyle = "#000000";
    pen.lineWidth = 1.5;
    pen.beginPath();
    pen.arc(left + side / 2, top + side / 2, side * 0.28, 0, 7);
    pen.fill();
    pen.stroke();
  }

  let drawnFocus = focus;
  /** @type {[number, number, number, number] | null} */
  let drawnSelection = null;

  function drawFocus() {
    for (const [x, y] of drawnSelection ? edgeOf(drawnSelection) : []) redraw(x, y);
    redraw(...drawnFocus);
    if (selection) {
      const [x0, y0, x1, y1] = selection;
      outline(x0, y0, x1 - x0 + 1, y1 - y0 + 1, [4, 3]);
    }
    outline(focus[0], focus[1], 1, 1, []);
    drawnFocus = focus;
    drawnSelection = selection;
  }

  /** @param {number} x @param {number} y */
  function redraw(x, y) {
    for (const [nx, ny] of boxSquares(x - 1, y - 1, x + 1, y + 1))
      if (nx >= 0 && ny >= 0 && nx < sheet.columns && ny < sheet.rows) drawSquare(nx, ny);
  }

  /** @param {[number, number, number, number]} box */
  function edgeOf([x0, y0, x1, y1]) {
    return boxSquares(x0, y0, x1, y1).filter(([x, y]) => x === x0 || x === x1 || y === y0 || y === y1);
  }

  /** @param {number} x @param {number} y @param {number} wide @param {number} high @param {number[]} dashes */
  function outline(x, y, wide, high, dashes) {
    const box = /** @type {const} */ ([frame.left + x * side + 1, frame.top + y * side + 1, wide * side - 2, high * side - 2]);
    pen.setLineDash([]);
    pen.strokeStyle = "#ffffff";
    pen.lineWidth = 3;
    pen.strokeRect(...box);
    pen.setLineDash(dashes);
    pen.strokeStyle = "#c2185b";
    pen.lineWidth = 1.5;
    pen.strokeRect(...box);
    pen.setLineDash([]);
  }

  /** @param {number} factor */
  function zoom(factor) {
    side = Math.max(3, Math.min(48, Math.round(side * factor) + (factor > 1 ? 1 : 0)));
    drawAll();
  }

  // ---- painting -------------------------------------------------------------------------------------------

  /** Draw the stroke in hand: what it painted before is taken back first where the shape changes with the hand.
   * @param {[number, number][]} squares @param {boolean} anew */
  function paint(squares, anew) {
    if (!stroke) return;
    if (anew) {
      for (const index of stroke.painted.keys()) {
        cells[index] = stroke.before[index];
        drawSquare(index % sheet.columns, Math.floor(index / sheet.columns));
      }
      stroke.painted.clear();
    }
    for (const [index, value] of withEchoes(squares, stroke.colour, sheet.echoes, sheet.columns, sheet.rows)) {
      if (stroke.painted.has(index)) continue;
      stroke.painted.set(index, value);
      cells[index] = value;
      drawSquare(index % sheet.columns, Math.floor(index / sheet.columns));
    }
  }

  /** @param {[number, number]} at */
  function startStroke(at) {
    stroke = { start: at, last: at, before: cells.slice(), colour, painted: new Map() };
    if (tool === "fill") paint(fillSquares(cells, sheet.columns, ...at), false);
    else paint([at], false);
  }

  /** @param {[number, number]} at */
  function goOn(at) {
    if (!stroke || tool === "fill") return;
    if (tool === "line") paint(lineSquares(...stroke.start, ...at), true);
    else if (tool === "box") paint(boxSquares(...stroke.start, ...at), true);
    else paint(lineSquares(...stroke.last, ...at), false);
    stroke.last = at;
  }

  function endStroke() {
    if (!stroke) return;
    const changed = [...stroke.painted].filter(([index, value]) => stroke?.before[index] !== value);
    stroke = null;
    if (changed.length === 0) return;
    const squares = Int32Array.from(changed, ([index]) => index);
    const values = Uint8Array.from(changed, ([, value]) => value);
    send({ kind: "paint", tool }, [squares.buffer, values.buffer]);
  }

  function dropStroke() {
    if (!stroke) return;
    cells = stroke.before;
    stroke = null;
    drawAll();
  }

  /** @param {[number, number]} at */
  function setFocus(at) {
    focus = at;
    drawFocus();
    ask();
  }

  let asking = 0;
  function ask() {
    window.clearTimeout(asking);
    asking = window.setTimeout(() => {
      if (connected) send({ kind: "ask", square: focus[1] * sheet.columns + focus[0] });
    }, 80);
  }

  /** @param {PointerEvent} event @returns {[number, number] | null} */
  function under(event) {
    const box = canvas.getBoundingClientRect();
    return squareAt(event.clientX - box.left, event.clientY - box.top, frame, sheet.columns, sheet.rows);
  }

  canvas.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || tool === "pan") return;
    const at = under(event);
    if (!at || !connected) return;
    canvas.focus({ preventScroll: true });
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    if (tool !== "select") startStroke(at);
    else if (selection && within(at, selection)) grasp(at, selection);
    else selection = [at[0], at[1], at[0], at[1]];
    focus = at;
    drawFocus();
  }, { signal });
  canvas.addEventListener("pointermove", (event) => {
    const at = under(event);
    if (!at || !canvas.hasPointerCapture(event.pointerId)) return;
    if (carried) carry(at, carried);
    else if (tool === "select" && selection) {
      const [fx, fy] = focus;
      selection = [Math.min(fx, at[0]), Math.min(fy, at[1]), Math.max(fx, at[0]), Math.max(fy, at[1])];
      drawFocus();
    } else goOn(at);
  }, { signal });
  canvas.addEventListener("pointerup", (event) => {
    const at = under(event);
    carried = null;
    endStroke();
    if (at && tool !== "pan" && tool !== "select") setFocus(at);
    else ask();
  }, { signal });
  canvas.addEventListener("pointercancel", drop, { signal });

  // ---- the keyboard ---------------------------------------------------------------------------------------

  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  canvas.addEventListener("keydown", (event) => {
    const plain = !event.ctrlKey && !event.metaKey && !event.altKey;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (key === "Tab") return;
    if (!plain && !((event.ctrlKey || event.metaKey) && (key === "z" || key === "y"))) return;
    // nothing plain may reach the notebook: its keys delete cells
    event.stopPropagation();
    if (!plain) act(key === "y" || event.shiftKey ? "redo" : "undo");
    else if (!press(key, event.shiftKey)) return;
    event.preventDefault();
  }, { signal });

  /** @param {string} key @param {boolean} shift @returns {boolean} whether the key does anything */
  function press(key, shift) {
    const toolOfKey = TOOLS.find(([, , letter]) => letter === key);
    if (key in ARROWS) {
      const [dx, dy] = ARROWS[/** @type {keyof typeof ARROWS} */ (key)];
      const at = /** @type {[number, number]} */ ([
        Math.max(0, Math.min(sheet.columns - 1, focus[0] + dx)),
        Math.max(0, Math.min(sheet.rows - 1, focus[1] + dy)),
      ]);
      if (shift && tool === "select") {
        const [x0, y0, x1, y1] = selection ?? [...focus, ...focus];
        selection = [Math.min(x0, at[0]), Math.min(y0, at[1]), Math.max(x1, at[0]), Math.max(y1, at[1])];
      } else if (shift && connected) {
        startStroke(focus);
        paint([at], false);
        endStroke();
      }
      setFocus(at);
      showFocus();
    } else if (key === " " || (key === "Enter" && !said.preview)) {
      if (!connected || tool === "pan" || tool === "select") return true;
      startStroke(focus);
      endStroke();
    } else if (key === "Enter") act("accept");
    else if (key === "Escape") {
      if (stroke) drop();
      else selection = null;
      drawFocus();
      if (said.preview) act("leave");
    } else if (toolOfKey) takeTool(toolOfKey[0]);
    else if (key === "x") takeColour(1 - colour);
    else if (key === "n") act("nearest");
    else if (key === "c") copy();
    else if (key === "k") cut();
    else if (key === "v") paste();
    else if (key === "Delete" || key === "Backspace") clearSelection();
    else if (key === "+" || key === "=") zoom(1.25);
    else if (key === "-") zoom(1 / 1.25);
    else if (key === "?") help.hidden = !help.hidden;
    else return false;
    return true;
  }

  function showFocus() {
    const left = frame.left + focus[0] * side;
    const top = frame.top + focus[1] * side;
    if (left < scroll.scrollLeft) scroll.scrollLeft = left - side;
    if (left + side > scroll.scrollLeft + scroll.clientWidth) scroll.scrollLeft = left + 2 * side - scroll.clientWidth;
    if (top < scroll.scrollTop) scroll.scrollTop = top - side;
    if (top + side > scroll.scrollTop + scroll.clientHeight) scroll.scrollTop = top + 2 * side - scroll.clientHeight;
  }

  function copy() {
    const [x0, y0, x1, y1] = selection ?? [...focus, ...focus];
    const width = x1 - x0 + 1;
    copied = {
      width,
      height: y1 - y0 + 1,
      cells: Uint8Array.from(boxSquares(x0, y0, x1, y1), ([x, y]) => cells[y * sheet.columns + x]),
    };
    note.textContent = `Copied ${copied.width} × ${copied.height} squares.`;
  }

  function cut() {
    copy();
    clearSelection();
  }

  function paste() {
    if (!copied || !connected) return;
    const { width, cells: from } = copied;
    const [x0, y0] = selection ?? focus;
    putSquares(Array.from(from, (value, at) => [x0 + (at % width), y0 + Math.floor(at / width), value]));
  }

  function clearSelection() {
    if (!selection || !connected) return;
    putSquares(cleared(selection));
  }

  /** @param {[number, number, number, number]} box @returns {number[][]} its squares, in MC */
  function cleared(box) {
    return boxSquares(...box).map(([x, y]) => [x, y, 0]);
  }

  /** @param {number[][]} squares x, y and colour of each */
  function putSquares(squares) {
    liftHand();
    lay(squares);
    endStroke();
  }

  /** Begin a stroke that has painted nothing yet. */
  function liftHand() {
    stroke = { start: focus, last: focus, before: cells.slice(), colour: 0, painted: new Map() };
  }

  /** @param {number[][]} squares x, y and colour of each; the first to name a square counts */
  function lay(squares) {
    if (!stroke) return;
    for (const [x, y, value] of squares) {
      stroke.colour = value;
      paint([[x, y]], false);
    }
  }

  /** Take a selection in hand, to carry it elsewhere.
   * @param {[number, number]} at @param {[number, number, number, number]} box */
  function grasp(at, box) {
    liftHand();
    const held = Uint8Array.from(boxSquares(...box), ([x, y]) => cells[y * sheet.columns + x]);
    carried = { from: box, cells: held, grasped: at };
  }

  /** Show the selection in hand where it would come to lie.
   * @param {[number, number]} at @param {NonNullable<typeof carried>} held */
  function carry(at, held) {
    const [dx, dy] = [at[0] - held.grasped[0], at[1] - held.grasped[1]];
    const [x0, y0, x1, y1] = held.from;
    const wide = x1 - x0 + 1;
    const landed = Array.from(held.cells, (value, number) => [x0 + dx + (number % wide), y0 + dy + Math.floor(number / wide), value]);
    paint([], true);
    if (dx || dy) lay([...landed, ...cleared(held.from)]);
    const [left, right] = [Math.max(0, x0 + dx), Math.min(sheet.columns - 1, x1 + dx)];
    const [top, bottom] = [Math.max(0, y0 + dy), Math.min(sheet.rows - 1, y1 + dy)];
    selection = left > right || top > bottom ? held.from : [left, top, right, bottom];
    drawFocus();
  }

  /** Let go of what is in hand: the picture is as it was. */
  function drop() {
    if (carried) selection = carried.from;
    carried = null;
    dropStroke();
  }

  // ---- settings and answers -------------------------------------------------------------------------------

  /** @param {string} name */
  function takeTool(name) {
    tool = name;
    canvas.classList.toggle("mk-pan", name === "pan");
    TOOLS.forEach(([each], number) => toolButtons[number].setAttribute("aria-pressed", String(each === name)));
  }

  /** @param {number} number */
  function takeColour(number) {
    colour = number;
    colourButtons.forEach((each, at) => each.setAttribute("aria-pressed", String(at === number)));
  }

  function setFollow() {
    send({
      kind: "set",
      follow: followBoxes.filter((each) => each.box.checked).map((each) => each.name),
      repeat_across: Number(acrossBox.value) || 0,
      repeat_up: Number(upBox.value) || 0,
      only_workable: onlyBox.checked,
      hand: handBox.checked ? "left" : "right",
    });
  }

  function takeSheet() {
    sheet = model.get("sheet");
    colourButtons.forEach((each, number) => {
      const ink = make("span", { className: "mk-ink" });
      ink.style.background = sheet.inks[number][sheet.rows - 1];
      each.replaceChildren(ink, sheet.roles[number]);
    });
    focus = [Math.min(focus[0], sheet.columns - 1), Math.min(focus[1], sheet.rows - 1)];
    selection = null;
    drawnFocus = focus;
    drawnSelection = null;
    cells = bytesOf(model.get("cells"));
    marks = bytesOf(model.get("marks"));
    ghost = bytesOf(model.get("ghost"));
    drawAll();
  }

  function takeSaid() {
    said = model.get("said");
    canvas.setAttribute("aria-label", `${said.summary}. Arrows move, space paints, question mark lists the keys.`);
    const works = said.errors ? `Cannot be worked yet. Squares to mend: ${said.errors}.` : "Can be worked.";
    tally.textContent = `${works} Squares with advice: ${said.advice}. ${sheet.contrast}`;
    findings.replaceChildren(...said.findings.map((finding) => {
      const jump = button(finding.message, () => {
        setFocus([finding.square % sheet.columns, Math.floor(finding.square / sheet.columns)]);
        showFocus();
        canvas.focus({ preventScroll: true });
      });
      return make("li", { className: `mk-${finding.severity}` }, [jump]);
    }));
    undoButton.disabled = !said.undo;
    redoButton.disabled = !said.redo;
    undoButton.title = said.undo ? `Undo: ${said.undo}` : "Nothing to undo";
    redoButton.title = said.redo ? `Redo: ${said.redo}` : "Nothing to redo";
    preview.hidden = !said.preview;
    previewText.textContent = said.preview;
    note.textContent = said.note;
    for (const each of followBoxes) each.box.checked = said.follow.includes(each.name);
    acrossBox.value = String(said.repeat_across);
    upBox.value = String(said.repeat_up);
    onlyBox.checked = said.only_workable;
    handBox.checked = said.hand === "left";
    tellTrouble();
  }

  function takeLook() {
    second.innerHTML = model.get("look"); // made by mosaickit's own svg module, which escapes all text
  }

  /** @type {[string, () => void][]} */
  const changes = [
    ["change:sheet", takeSheet],
    ["change:said", takeSaid],
    ["change:look", takeLook],
    ["change:cells", takePictureSoon],
    ["change:marks", takePictureSoon],
    ["change:ghost", takePictureSoon],
    ["msg:custom", /** @type {any} */ (hear)],
  ];
  for (const [name, heard] of changes) model.on(name, heard);

  // the page has no width before it is shown
  const fitting = window.requestAnimationFrame(() => {
    const room = scroll.clientWidth - 60;
    side = Math.max(6, Math.min(24, Math.floor(room / sheet.columns)));
    takeSheet();
    scroll.scrollLeft = sheet.edge === "right" ? scroll.scrollWidth : 0;
    scroll.scrollTop = scroll.scrollHeight;
  });
  takeSheet();
  takeSaid();
  takeLook();
  takeTool(tool);
  takeColour(colour);
  send({ kind: "ask", square: focus[1] * sheet.columns + focus[0] });

  return () => {
    listening.abort();
    window.clearTimeout(asking);
    window.cancelAnimationFrame(fitting);
    for (const timer of waiting.values()) window.clearTimeout(timer);
    for (const [name, heard] of changes) model.off(name, heard);
  };
}

export default { render };
