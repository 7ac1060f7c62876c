// @ts-check
/**
 * The hand of the painter: what was pressed, drawn at once, told to Python, and Python's answer drawn over it.
 *
 * Python is told what the hand did, in the order in which it was done: squares, the tool and the colour they were
 * painted in, a setting that was changed. It says what becomes of that. Until it has, the page draws what it expects:
 * Python's last picture, and on top of it all that the hand did since. So nothing depends on how long Python takes.
 *
 * Nothing of the craft is known here. Which colour a square would have, which squares are to be hatched, what is
 * the matter with them, how they are numbered and which squares follow the hand: all of it comes from Python.
 * Squares are numbered as seen, row by row from the top left; 0 is MC, 1 is CC.
 */

/**
 * @typedef {{ turns: number[][], across: number, up: number, row_is_cc: boolean[] }} Follow
 * What follows the hand: each turn [sx, ox, sy, oy] takes (x, y) to (sx * x + ox, sy * y + oy), and the squares that
 * are a multiple of `across` and of `up` away from there follow too, in the other colour where the row is of the other colour.
 *
 * @typedef {{
 *   rows: number, columns: number,
 *   row_numbers: number[], stitch_numbers: number[], edge: "left" | "right",
 *   heavy_rows: number[], heavy_columns: number[],
 *   inks: [string[], string[]], row_inks: string[], roles: [string, string],
 *   contrast: string,
 * }} Sheet
 *
 * @typedef {{ severity: string, message: string, square: number }} Finding
 *
 * @typedef {{
 *   summary: string, findings: Finding[], errors: number, advice: number, undo: string, redo: string,
 *   preview: string, note: string, trouble: string, only_workable: boolean, mirror: boolean, "up-down": boolean,
 *   "half-turn": boolean, across: number, up: number, hand: string,
 * }} Said
 *
 * @typedef {(cells: Uint8Array) => number[][]} Gesture
 * What the hand did, told as squares in the hand's order, each [x, y, colour], given the picture it was done on.
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

/** The squares of the same colour that are connected to a square, edge to edge.
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
  return found.sort(([ax, ay], [bx, by]) => ay - by || ax - bx);
}

/** A stroke that grows: each square the hand names, and the squares that follow it. The hand's own squares come first,
 * and the first square to name a place counts, so that it does not matter in how many pieces the stroke comes.
 * @param {Follow} follow @param {number} columns @param {number} rows */
export function growingStroke(follow, columns, rows) {
  const own = new Set();
  const classes = new Set(); // of squares that follow each other; the first to reach one paints all of it
  const painted = /** @type {Map<number, number>} */ (new Map());
  return {
    painted,
    /** @param {number[][]} squares each [x, y, colour]; those outside are left out
     * @returns {number[]} the squares whose colour was set */
    add(squares) {
      /** @type {number[]} */
      const changed = [];
      for (const [x, y, colour] of squares) {
        const index = y * columns + x;
        if (x < 0 || y < 0 || x >= columns || y >= rows || own.has(index)) continue;
        own.add(index);
        painted.set(index, colour);
        changed.push(index);
        for (const [sx, ox, sy, oy] of follow.turns) {
          const [left, top] = [(sx * x + ox) % follow.across, (sy * y + oy) % follow.up];
          const name = top * follow.across + left;
          if (classes.has(name)) continue;
          classes.add(name);
          for (let ty = top; ty < rows; ty += follow.up) {
            const value = follow.row_is_cc[ty] === follow.row_is_cc[y] ? colour : 1 - colour;
            for (let tx = left; tx < columns; tx += follow.across) {
              const target = ty * columns + tx;
              if (own.has(target)) continue;
              painted.set(target, value);
              changed.push(target);
            }
          }
        }
      }
      return changed;
    },
  };
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
const PAINTS = new Set(["brush", "line", "box", "fill"]);
/** What never changes the picture's size; where an arrow key leads after anything else is known when Python answers. */
const SIZE_STAYS = new Set(["nearest", "accept", "leave", "enter", "dot"]);
/** What a kernel is when it no longer knows this painter. */
const LOST = new Set(["restarting", "autorestarting", "terminating", "dead"]);

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
  let heard = 0; // the last message that is in what Python sent
  /** @type {Map<number, { since: number, counts: boolean, resizes: boolean }>} */
  const waiting = new Map(); // messages without an answer, by number
  let silence = 0; // the timer that notices
  let slow = false;
  let lost = false;

  let base = bytesOf(model.get("cells")); // Python's picture
  let cells = base.slice(); // and what the hand did since on top of it
  let marks = bytesOf(model.get("marks"));
  let ghost = bytesOf(model.get("ghost"));
  /** @type {Sheet} */ let sheet = model.get("sheet");
  /** @type {Follow} */ let follow = model.get("follow");
  /** @type {Said} */ let said = model.get("said");
  /** @type {{ number: number, gesture: Gesture }[]} */
  let unanswered = [];
  /** @type {Map<string, number>} */
  const claims = new Map(); // settings that were changed here: the message that says so, or Infinity while it waits

  let tool = "brush";
  let colour = 1;
  let side = 12; // until there is a width to fit the picture into
  // focus and selection stay where the hand put them; where the picture has become smaller they are drawn inside it
  let focus = /** @type {[number, number]} */ ([sheet.edge === "right" ? sheet.columns - 1 : 0, sheet.rows - 1]);
  /** @type {{ tool: string, colour: number, start: [number, number], last: [number, number], squares: number[][],
   *   under: Uint8Array, growing: ReturnType<typeof growingStroke> } | null} */
  let stroke = null;
  /** @type {[number, number, number, number] | null} */
  let selection = null; // corners, both included
  /** @type {[number, number] | null} */
  let selecting = null; // where the hand began to select
  /** @type {{ width: number, height: number, cells: Uint8Array } | null} */
  let copied = null;
  /** @type {{ from: [number, number, number, number], grasped: [number, number], by: [number, number] } | null} */
  let carried = null; // a selection on its way, where the hand grasped it, and how far it has come
  /** @type {{ does: () => void, moves: boolean, ofStroke: boolean }[]} */
  const held = []; // what the hand did and the page has not done yet, in order

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
    made.addEventListener("click", () => inTurn(press), { signal });
    return made;
  };
  const toolButtons = TOOLS.map(([name, text, key]) => button(text, () => takeTool(name), `Key ${key.toUpperCase()}`));
  const colourButtons = [0, 1].map((number) => button("", () => takeColour(number), "Key X takes the other colour"));
  const undoButton = button("Undo", () => act("undo"));
  const redoButton = button("Redo", () => act("redo"));
  /** A control that changes how the hand paints.
   * @param {string} name @param {HTMLInputElement} box @param {() => unknown} value */
  const setting = (name, box, value) => {
    const change = () => {
      const wanted = value();
      claims.set(name, Infinity);
      inTurn(() => claims.set(name, send({ kind: "set", name, value: wanted })));
    };
    box.addEventListener("change", change, { signal });
    return box;
  };
  const followBoxes = FOLLOW.map(([name, text]) => {
    const box = make("input", { type: "checkbox" });
    setting(name, box, () => box.checked);
    return { name, box, label: make("label", {}, [box, text]) };
  });
  const acrossBox = make("input", { type: "number", min: "0", max: "999", value: "0" });
  setting("across", acrossBox, () => Number(acrossBox.value) || 0);
  const upBox = make("input", { type: "number", min: "0", max: "999", value: "0" });
  setting("up", upBox, () => Number(upBox.value) || 0);
  const onlyBox = make("input", { type: "checkbox" });
  setting("only_workable", onlyBox, () => onlyBox.checked);
  const handBox = make("input", { type: "checkbox" });
  setting("hand", handBox, () => (handBox.checked ? "left" : "right"));
  const viewBox = make("select", {}, VIEWS.map(([name, text]) => make("option", { value: name }, [text])));
  viewBox.addEventListener("change", () => {
    const at = viewBox.value;
    inTurn(() => send({ kind: "look", at }));
  }, { signal });
  viewBox.setAttribute("aria-label", "Second view");
  const changeBox = make("select", {}, [
    make("option", { value: "" }, ["Change all…"]),
    ...CHANGES.map(([name, text]) => make("option", { value: name }, [text])),
  ]);
  changeBox.setAttribute("aria-label", "Change the whole picture");
  changeBox.addEventListener(
    "change",
    () => {
      const name = changeBox.value;
      if (name) inTurn(() => act(name));
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

  /** @param {Record<string, any>} content @param {ArrayBuffer[]} [buffers] @returns {number} the message's number */
  function send(content, buffers = []) {
    seq += 1;
    const asks = content.kind === "ask";
    const resizes = content.kind === "act" && !SIZE_STAYS.has(content.name);
    waiting.set(seq, { since: performance.now(), counts: !asks && content.kind !== "look", resizes });
    if (!silence) listen(SILENCE_MS);
    model.send({ ...content, view, seq }, undefined, buffers);
    if (!asks) showSteps();
    return seq;
  }

  /** @param {string} name */
  function act(name) {
    if (lost) return;
    send({ kind: "act", name, x: focus[0], y: focus[1], tool, colour });
  }

  /** @param {number} patience in milliseconds */
  function listen(patience) {
    silence = window.setTimeout(() => {
      silence = 0;
      const oldest = Math.min(...[...waiting.values()].map((each) => each.since));
      if (!Number.isFinite(oldest)) return;
      const left = oldest + SILENCE_MS - performance.now();
      if (left > 0) return listen(left);
      slow = true;
      tellTrouble();
      listen(SILENCE_MS);
    }, patience);
  }

  /** Python no longer knows this painter: nothing that is told it from now on is done. */
  function lose() {
    if (lost) return;
    lost = true;
    held.length = 0;
    drop();
    page.classList.add("mk-offline");
    tellTrouble();
    send({ kind: "ask", x: focus[0], y: focus[1] }); // an answer shows that it was not lost
  }

  function tellTrouble() {
    const count = [...waiting.values()].filter((each) => each.counts).length;
    const things = count === 1 ? "The last thing you did is" : `The last ${count} things you did are`;
    const gone = "Not connected to Python: nothing painted now would be kept. In a notebook, run the cell again to go on.";
    const late = "Python is busy. Go on: what you do is kept here in order, and done when Python answers.";
    const waits = !lost && slow && count > 0;
    if (lost) banner.textContent = count ? `${gone} ${things} not in the file.` : gone;
    else banner.textContent = waits ? `${late} ${things} not in the file yet. If this stays, run the cell again.` : said.trouble;
    banner.classList.toggle("mk-late", waits);
    banner.hidden = !banner.textContent;
  }

  let takingSoon = false;

  /** All of an answer comes in one message, and is looked through once. */
  function takeSoon() {
    if (takingSoon) return;
    takingSoon = true;
    queueMicrotask(() => {
      takingSoon = false;
      take();
    });
  }

  /** Take over what Python says, and lay on top of it what it has not heard yet. */
  function take() {
    const last = model.get("heard")[view] ?? 0;
    if (last > heard) {
      heard = last;
      lost = false;
      page.classList.remove("mk-offline");
    }
    for (const number of [...waiting.keys()]) if (number <= heard) waiting.delete(number);
    for (const [name, number] of [...claims]) if (number <= heard) claims.delete(name);
    unanswered = unanswered.filter((each) => each.number > heard);
    if ([...waiting.values()].every((each) => each.since > performance.now() - SILENCE_MS)) slow = false;
    const before = { cells, marks, ghost, sheet };
    const changed = said !== model.get("said") || sheet !== model.get("sheet");
    base = bytesOf(model.get("cells"));
    marks = bytesOf(model.get("marks"));
    ghost = bytesOf(model.get("ghost"));
    follow = model.get("follow");
    sheet = model.get("sheet");
    if (sheet !== before.sheet) takeSheet();
    layUnheard();
    if (sheet !== before.sheet) drawAll();
    else drawChanged(before);
    if (said !== model.get("said")) {
      said = model.get("said");
      takeSentences();
    }
    takeSaid();
    if (changed) ask();
    release();
  }

  /** Begin with Python's picture again, and do on it what the hand did since. */
  function layUnheard() {
    cells = base.slice();
    for (const { gesture } of unanswered) {
      const growing = growingStroke(follow, sheet.columns, sheet.rows);
      growing.add(gesture(cells));
      for (const [index, value] of growing.painted) cells[index] = value;
    }
    if (!stroke) return;
    stroke.under = cells.slice();
    stroke.growing = growingStroke(follow, sheet.columns, sheet.rows);
    stroke.growing.add(stroke.squares);
    for (const [index, value] of stroke.growing.painted) cells[index] = value;
  }

  /** @param {{ cells: Uint8Array, marks: Uint8Array, ghost: Uint8Array }} before */
  function drawChanged(before) {
    for (let index = 0; index < cells.length; index++) {
      if (cells[index] !== before.cells[index] || marks[index] !== before.marks[index] || ghost[index] !== before.ghost[index])
        drawSquare(index % sheet.columns, Math.floor(index / sheet.columns));
    }
    drawFocus();
  }

  /** @param {any} answer */
  function hear(answer) {
    if (answer.view === view && answer.kind === "told") focusText.textContent = answer.sentence;
  }

  // ---- one thing after another ----------------------------------------------------------------------------

  /** Whether the hand has the picture in hand: what else is pressed waits until it lets go. */
  const busy = () => stroke !== null || carried !== null || selecting !== null;
  const resizing = () => [...waiting.values()].some((each) => each.resizes);

  /** Do what the hand did, after all that it did before.
   * @param {() => void} does @param {{ moves?: boolean, ofStroke?: boolean }} [how] moves: it goes on from where the
   * focus is, which depends on a size that Python may be changing; ofStroke: it is part of a stroke */
  function inTurn(does, how = {}) {
    held.push({ does, moves: how.moves ?? false, ofStroke: how.ofStroke ?? false });
    release();
  }

  function release() {
    while (held.length && (held[0].ofStroke || !busy()) && !(held[0].moves && resizing())) held.shift()?.does();
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

  /** The square in focus: the nearest one where the picture has become smaller.
   * @returns {[number, number]} */
  const here = () => [Math.min(focus[0], sheet.columns - 1), Math.min(focus[1], sheet.rows - 1)];

  /** The part of the selection that is in the picture.
   * @returns {[number, number, number, number] | null} */
  function selected() {
    if (!selection || selection[0] >= sheet.columns || selection[1] >= sheet.rows || selection[2] < 0 || selection[3] < 0) return null;
    const [x0, y0, x1, y1] = selection;
    return [Math.max(0, x0), Math.max(0, y0), Math.min(x1, sheet.columns - 1), Math.min(y1, sheet.rows - 1)];
  }

  function drawFocus() {
    for (const [x, y] of drawnSelection ? edgeOf(drawnSelection) : []) redraw(x, y);
    redraw(...drawnFocus);
    const shown = selected();
    if (shown) outline(shown[0], shown[1], shown[2] - shown[0] + 1, shown[3] - shown[1] + 1, [4, 3]);
    drawnFocus = here();
    outline(...drawnFocus, 1, 1, []);
    drawnSelection = shown;
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

  /** @param {number} index @param {number} value */
  function show(index, value) {
    if (cells[index] === value) return;
    cells[index] = value;
    drawSquare(index % sheet.columns, Math.floor(index / sheet.columns));
  }

  /** Begin a stroke that has painted nothing yet.
   * @param {[number, number]} at */
  function startStroke(at) {
    stroke = {
      tool, colour, start: at, last: at, squares: [], under: cells.slice(),
      growing: growingStroke(follow, sheet.columns, sheet.rows),
    };
  }

  /** Paint on with the stroke in hand.
   * @param {number[][]} squares each [x, y, colour] */
  function paint(squares) {
    if (!stroke) return;
    for (const square of squares) stroke.squares.push(square); // a fill has more than one call takes as arguments
    for (const index of stroke.growing.add(squares)) show(index, stroke.growing.painted.get(index) ?? 0);
  }

  /** Take back what the stroke in hand painted, and let it paint something else.
   * @param {number[][]} squares */
  function repaint(squares) {
    if (!stroke) return;
    const before = stroke.growing.painted;
    stroke.squares = squares;
    stroke.growing = growingStroke(follow, sheet.columns, sheet.rows);
    stroke.growing.add(squares);
    for (const index of before.keys()) if (!stroke.growing.painted.has(index)) show(index, stroke.under[index]);
    for (const [index, value] of stroke.growing.painted) show(index, value);
  }

  /** What a tool paints between two squares.
   * @param {string} with_ @param {[number, number]} from
   * @param {[number, number]} to @param {number} ink @returns {number[][]} */
  function drawnWith(with_, from, to, ink) {
    const squares = with_ === "box" ? boxSquares(...from, ...to) : lineSquares(...from, ...to);
    return squares.map(([x, y]) => [x, y, ink]);
  }

  /** @param {[number, number]} at */
  function begin(at) {
    startStroke(at);
    if (tool === "fill") paint(fillSquares(cells, sheet.columns, ...at).map(([x, y]) => [x, y, colour]));
    else paint([[...at, colour]]);
  }

  /** @param {[number, number]} at */
  function goOn(at) {
    if (!stroke || stroke.tool === "fill") return;
    if (stroke.tool === "brush") paint(drawnWith("line", stroke.last, at, stroke.colour));
    else repaint(drawnWith(stroke.tool, stroke.start, at, stroke.colour));
    stroke.last = at;
  }

  /** Tell Python what the hand did, and draw it until Python has answered.
   * @param {Record<string, any>} content
   * @param {Gesture} gesture @param {number[][]} [named] */
  function tell(content, gesture, named) {
    const number = send(content, named ? [Int32Array.from(named.flat()).buffer] : []);
    unanswered.push({ number, gesture });
  }

  function endStroke() {
    if (!stroke) return;
    const { tool: of, colour: ink, start, last, squares } = stroke;
    stroke = null;
    if (of === "fill") {
      const filled = (/** @type {Uint8Array} */ on) =>
        start[0] < sheet.columns && start[1] < sheet.rows ? fillSquares(on, sheet.columns, ...start).map(([x, y]) => [x, y, ink]) : [];
      tell({ kind: "paint", tool: of, colour: ink }, filled, [start]);
    } else {
      const seen = new Set();
      const named = of === "box" ? [start, last] : squares.filter(([x, y]) => !seen.has(`${x},${y}`) && seen.add(`${x},${y}`));
      tell({ kind: "paint", tool: of, colour: ink }, () => squares, named.map(([x, y]) => [x, y]));
    }
  }

  function dropStroke() {
    if (!stroke) return;
    const { growing, under } = stroke;
    stroke = null;
    for (const index of growing.painted.keys()) show(index, under[index]);
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
      if (!lost) send({ kind: "ask", x: focus[0], y: focus[1] });
    }, 80);
  }

  /** @param {PointerEvent} event @returns {[number, number] | null} */
  function under(event) {
    const box = canvas.getBoundingClientRect();
    return squareAt(event.clientX - box.left, event.clientY - box.top, frame, sheet.columns, sheet.rows);
  }

  /** Do part of a stroke. While something before it waits, the stroke waits too.
   * @param {() => void} does */
  const ofStroke = (does) => inTurn(does, { ofStroke: true });

  /** @type {number | null} */
  let pointer = null; // the one that draws; another finger does nothing meanwhile

  canvas.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || pointer !== null || (tool === "pan" && !held.length)) return;
    const at = under(event);
    if (!at || lost) return;
    pointer = event.pointerId;
    canvas.focus({ preventScroll: true });
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    inTurn(() => {
      if (tool === "pan") return;
      if (tool !== "select") begin(at);
      else if (selection && within(at, selection)) grasp(at, selection);
      else {
        selecting = at;
        selection = [...at, ...at];
      }
      focus = at;
      drawFocus();
    });
  }, { signal });
  canvas.addEventListener("pointermove", (event) => {
    const at = under(event);
    if (!at || event.pointerId !== pointer) return;
    ofStroke(() => {
      if (carried) carry(at, carried);
      else if (selecting) {
        const [fx, fy] = selecting;
        selection = [Math.min(fx, at[0]), Math.min(fy, at[1]), Math.max(fx, at[0]), Math.max(fy, at[1])];
        drawFocus();
      } else goOn(at);
    });
  }, { signal });
  canvas.addEventListener("pointerup", (event) => {
    if (event.pointerId !== pointer) return;
    pointer = null;
    const at = under(event);
    ofStroke(() => {
      const painted = stroke !== null && carried === null;
      selecting = null;
      letGo();
      endStroke();
      if (at && painted) setFocus(at);
      else ask();
      release();
    });
  }, { signal });
  canvas.addEventListener("pointercancel", (event) => {
    if (event.pointerId !== pointer) return;
    pointer = null;
    ofStroke(drop);
  }, { signal });

  // ---- the keyboard ---------------------------------------------------------------------------------------

  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  canvas.addEventListener("keydown", (event) => {
    const plain = !event.ctrlKey && !event.metaKey && !event.altKey;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (key === "Tab") return;
    if (!plain && !((event.ctrlKey || event.metaKey) && (key === "z" || key === "y"))) return;
    // nothing plain may reach the notebook: its keys delete cells
    event.stopPropagation();
    const does = plain ? pressed(key, event.shiftKey) : () => act(key === "y" || event.shiftKey ? "redo" : "undo");
    if (!does) return;
    event.preventDefault();
    if (key === "Escape" && busy()) drop();
    else inTurn(does, { moves: key in ARROWS });
  }, { signal });

  /** What a key does, or null.
   * @param {string} key @param {boolean} shift @returns {(() => void) | null} */
  function pressed(key, shift) {
    /** @type {Record<string, () => void>} */
    const keys = {
      " ": () => dot("dot"),
      Enter: () => dot("enter"),
      Escape: leave,
      x: () => takeColour(1 - colour),
      n: () => act("nearest"),
      c: copy,
      k: cut,
      v: paste,
      Delete: clearSelection,
      Backspace: clearSelection,
      "+": () => zoom(1.25),
      "=": () => zoom(1.25),
      "-": () => zoom(1 / 1.25),
      "?": () => (help.hidden = !help.hidden),
    };
    const toolOfKey = TOOLS.find(([, , letter]) => letter === key);
    if (key in ARROWS) return () => arrow(ARROWS[/** @type {keyof typeof ARROWS} */ (key)], shift);
    if (toolOfKey) return () => takeTool(toolOfKey[0]);
    return keys[key] ?? null;
  }

  /** @param {number[]} step @param {boolean} shift */
  function arrow([dx, dy], shift) {
    const from = here();
    const at = /** @type {[number, number]} */ ([
      Math.max(0, Math.min(sheet.columns - 1, from[0] + dx)),
      Math.max(0, Math.min(sheet.rows - 1, from[1] + dy)),
    ]);
    if (shift && tool === "select") {
      const [x0, y0, x1, y1] = selection ?? [...from, ...from];
      selection = [Math.min(x0, at[0]), Math.min(y0, at[1]), Math.max(x1, at[0]), Math.max(y1, at[1])];
    } else if (shift && !lost && PAINTS.has(tool)) {
      begin(from);
      if (tool !== "fill") goOn(at);
      endStroke();
    }
    // against the edge the focus stays, even where it was put outside a picture that has become smaller
    if (at[0] !== from[0] || at[1] !== from[1]) setFocus(at);
    else drawFocus();
    showFocus();
  }

  /** Paint the square in focus; Enter takes a preview instead, if there is one when Python comes to it.
   * @param {"dot" | "enter"} name */
  function dot(name) {
    if (lost || (name === "dot" && !PAINTS.has(tool))) return;
    const paints = PAINTS.has(tool) && !(name === "enter" && said.preview);
    const [at, of, ink] = [here(), tool, colour];
    const gesture = (/** @type {Uint8Array} */ on) => {
      if (!paints || at[0] >= sheet.columns || at[1] >= sheet.rows) return [];
      const squares = of === "fill" ? fillSquares(on, sheet.columns, ...at) : [at];
      return squares.map(([x, y]) => [x, y, ink]);
    };
    tell({ kind: "act", name, x: focus[0], y: focus[1], tool, colour }, gesture);
    showUnheard();
  }

  /** Draw what was just told. */
  function showUnheard() {
    const before = { cells, marks, ghost };
    layUnheard();
    drawChanged(before);
  }

  function leave() {
    selection = null;
    drawFocus();
    if (said.preview || waiting.size) act("leave");
  }

  function showFocus() {
    const [left, top] = [frame.left + here()[0] * side, frame.top + here()[1] * side];
    if (left < scroll.scrollLeft) scroll.scrollLeft = left - side;
    if (left + side > scroll.scrollLeft + scroll.clientWidth) scroll.scrollLeft = left + 2 * side - scroll.clientWidth;
    if (top < scroll.scrollTop) scroll.scrollTop = top - side;
    if (top + side > scroll.scrollTop + scroll.clientHeight) scroll.scrollTop = top + 2 * side - scroll.clientHeight;
  }

  /** Tell Python what to do with the selection, or with the square in focus.
   * @param {string} name @param {Record<string, any>} more @param {Gesture} gesture */
  function part(name, more, gesture) {
    if (lost) return;
    tell({ kind: "part", name, x: focus[0], y: focus[1], box: selection, ...more }, gesture);
    showUnheard();
  }

  function copy() {
    const [x0, y0, x1, y1] = selected() ?? [...here(), ...here()];
    copied = {
      width: x1 - x0 + 1,
      height: y1 - y0 + 1,
      cells: Uint8Array.from(boxSquares(x0, y0, x1, y1), ([x, y]) => cells[y * sheet.columns + x]),
    };
    part("copy", {}, () => []);
  }

  function cut() {
    copy();
    clearSelection();
  }

  function paste() {
    const { width, cells: from } = copied ?? { width: 1, cells: [] };
    const [x0, y0] = selection ?? here();
    part("paste", {}, () => Array.from(from, (value, at) => [x0 + (at % width), y0 + Math.floor(at / width), value]));
  }

  function clearSelection() {
    const box = selection;
    if (box) part("clear", {}, () => cleared(box));
  }

  /** @param {[number, number, number, number]} box @returns {number[][]} its squares, in MC */
  function cleared(box) {
    return boxSquares(...box).map(([x, y]) => [x, y, 0]);
  }

  /** A part of a picture in another place.
   * @param {[number, number, number, number]} from
   * @param {[number, number]} by @returns {Gesture} */
  function moved(from, [dx, dy]) {
    return (on) => {
      const inside = boxSquares(...from).filter(([x, y]) => x >= 0 && y >= 0 && x < sheet.columns && y < sheet.rows);
      const landed = inside.map(([x, y]) => [x + dx, y + dy, on[y * sheet.columns + x]]);
      return dx || dy ? [...landed, ...cleared(from)] : [];
    };
  }

  /** Take a selection in hand, to carry it elsewhere.
   * @param {[number, number]} at @param {[number, number, number, number]} box */
  function grasp(at, box) {
    startStroke(at);
    carried = { from: box, grasped: at, by: [0, 0] };
  }

  /** Show the selection in hand where it is now.
   * @param {[number, number]} at @param {NonNullable<typeof carried>} held */
  function carry(at, held) {
    if (!stroke) return;
    held.by = [at[0] - held.grasped[0], at[1] - held.grasped[1]];
    const [x0, y0, x1, y1] = held.from;
    repaint(moved(held.from, held.by)(stroke.under));
    selection = [x0 + held.by[0], y0 + held.by[1], x1 + held.by[0], y1 + held.by[1]];
    drawFocus();
  }

  /** Let go of the selection in hand, where it is now. */
  function letGo() {
    if (!carried) return;
    const { from, by } = carried;
    carried = stroke = null;
    if (by[0] || by[1]) tell({ kind: "part", name: "move", x: focus[0], y: focus[1], box: from, by }, moved(from, by));
  }

  /** Let go of what is in hand: the picture is as it was. */
  function drop() {
    if (carried) selection = carried.from;
    carried = selecting = null;
    dropStroke();
    drawFocus();
    release();
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

  function takeSheet() {
    colourButtons.forEach((each, number) => {
      const ink = make("span", { className: "mk-ink" });
      ink.style.background = sheet.inks[number][sheet.rows - 1];
      each.replaceChildren(ink, sheet.roles[number]);
    });
    drawnFocus = here();
    drawnSelection = null;
  }

  /** What was painted here and is not answered yet can be undone too. */
  function showSteps() {
    const more = [...waiting.values()].some((each) => each.counts);
    undoButton.disabled = !said.undo && !more;
    redoButton.disabled = !said.redo && !more;
  }

  function takeSaid() {
    showSteps();
    tellTrouble();
    for (const { name, box } of followBoxes) if (!claims.has(name)) box.checked = said[name];
    if (!claims.has("across")) acrossBox.value = String(said.across);
    if (!claims.has("up")) upBox.value = String(said.up);
    if (!claims.has("only_workable")) onlyBox.checked = said.only_workable;
    if (!claims.has("hand")) handBox.checked = said.hand === "left";
  }

  function takeSentences() {
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
    undoButton.title = said.undo ? `Undo: ${said.undo}` : "Nothing to undo";
    redoButton.title = said.redo ? `Redo: ${said.redo}` : "Nothing to redo";
    preview.hidden = !said.preview;
    previewText.textContent = said.preview;
    note.textContent = said.note;
  }

  function takeLook() {
    second.innerHTML = model.get("look"); // made by mosaickit's own svg module, which escapes all text
  }

  /** @type {[string, () => void][]} */
  const changes = [
    ...["cells", "marks", "ghost", "sheet", "follow", "said", "heard"].map(
      (name) => /** @type {[string, () => void]} */ ([`change:${name}`, takeSoon]),
    ),
    ["change:look", takeLook],
    ["msg:custom", /** @type {any} */ (hear)],
    ["comm_live_update", lose], // the host says that Python has let go of the widget
  ];
  for (const [name, hears] of changes) model.on(name, hears);
  /** @param {unknown} _ @param {string} status */
  const watch = (_, status) => {
    if (LOST.has(status)) lose();
  };
  const statusChanged = kernelOf(model)?.statusChanged;
  statusChanged?.connect(watch);

  // the page has no width before it is shown
  const fitting = window.requestAnimationFrame(() => {
    const room = scroll.clientWidth - 60;
    side = Math.max(6, Math.min(24, Math.floor(room / sheet.columns)));
    drawAll();
    scroll.scrollLeft = sheet.edge === "right" ? scroll.scrollWidth : 0;
    scroll.scrollTop = scroll.scrollHeight;
  });
  takeSheet();
  drawAll();
  takeSentences();
  takeSaid();
  takeLook();
  takeTool(tool);
  takeColour(colour);
  send({ kind: "ask", x: focus[0], y: focus[1] });

  return () => {
    listening.abort();
    window.clearTimeout(asking);
    window.clearTimeout(silence);
    window.cancelAnimationFrame(fitting);
    statusChanged?.disconnect(watch);
    for (const [name, hears] of changes) model.off(name, hears);
  };
}

/** The kernel behind a widget, where the host lets a widget see it.
 * @param {any} model @returns {any} */
function kernelOf(model) {
  try {
    return model.widget_manager.kernel;
  } catch {
    return null;
  }
}

export default { render };
