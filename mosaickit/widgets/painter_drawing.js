// @ts-check
/** The sheet on its canvas: squares, marks, numbers, what is in focus and what is selected. */

import { boxSquares, squareAt } from "./painter_squares.js";

/**
 * @typedef {import("./painter_squares.js").Box} Box
 * @typedef {import("./painter_squares.js").Square} Square
 * @typedef {import("./painter_state.js").State} State
 */

/** Which numbers there is room for: 1 and every so many.
 * @param {number} side @param {number} room @returns {number} */
export function numberStep(side, room) {
  return [1, 5, 10, 20, 50, 100].find((step) => Math.max(step - 1, 1) * side >= room) ?? 100;
}

/** The squares of a box at its edge.
 * @param {Box} box */
function edgeOf([x0, y0, x1, y1]) {
  return boxSquares(x0, y0, x1, y1).filter(([x, y]) => x === x0 || x === x1 || y === y0 || y === y1);
}

export class Drawing {
  /** @param {State} state @param {HTMLCanvasElement} canvas @param {HTMLElement} scroll what the canvas is moved in */
  constructor(state, canvas, scroll) {
    this.state = state;
    this.canvas = canvas;
    this.scroll = scroll;
    this.pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    // width and height of a square, until there is a width to fit the picture into
    this.frame = { left: 0, top: 4, side: 12, high: 12 };
    this.unfitted = false; // whether it is to be fitted when it is shown
    this.drawnFocus = state.focus;
    /** @type {Map<number, number>} */ this.planned = new Map(); // what the keyboard would draw, as it is marked
    /** @type {Box | null} */ this.drawnSelection = null;
    /** @type {Box | null} */ this.drawnLaying = null;
  }

  /** Where a row begins, in whole pixels, so that no seam shows between rows.
   * @param {number} y */
  rowTop(y) {
    return this.frame.top + Math.round(y * this.frame.high);
  }

  /** How high a row is drawn.
   * @param {number} y */
  tall(y) {
    return this.rowTop(y + 1) - this.rowTop(y);
  }

  drawAll() {
    const { canvas, pen, frame } = this;
    const { sheet } = this.state;
    const { rows, columns } = sheet;
    frame.high = frame.side / sheet.aspect;
    const margin = 14 + 7 * String(rows).length + 10;
    frame.left = sheet.edge === "left" ? margin : 4;
    const width = columns * frame.side + margin + 8;
    const height = this.rowTop(rows) + 20;
    const sharp = window.devicePixelRatio || 1;
    canvas.width = width * sharp;
    canvas.height = height * sharp;
    canvas.style.width = `${width}px`;
    canvas.style.height = `${height}px`;
    pen.setTransform(sharp, 0, 0, sharp, 0, 0);
    pen.fillStyle = "#ffffff";
    pen.fillRect(0, 0, width, height);
    this.planned = this.state.plan();
    for (let y = 0; y < rows; y++) for (let x = 0; x < columns; x++) this.drawSquare(x, y);
    this.drawNumbers();
    this.drawFocus();
  }

  drawNumbers() {
    const { pen } = this;
    const { left, top, side, high } = this.frame;
    const { sheet } = this.state;
    const { rows, columns } = sheet;
    pen.font = "10px sans-serif";
    pen.textBaseline = "middle";
    const atLeft = sheet.edge === "left";
    const barAt = atLeft ? left - 12 : left + columns * side + 4;
    const everyRow = numberStep(high, 11);
    for (let y = 0; y < rows; y++) {
      pen.fillStyle = sheet.row_inks[y];
      pen.fillRect(barAt, this.rowTop(y), 8, this.tall(y));
      const number = sheet.row_numbers[y];
      if (number !== 1 && number % everyRow) continue;
      pen.fillStyle = "#222222";
      pen.textAlign = atLeft ? "right" : "left";
      pen.fillText(String(number), atLeft ? barAt - 4 : barAt + 12, this.rowTop(y) + this.tall(y) / 2);
    }
    pen.strokeStyle = "#555555";
    pen.lineWidth = 1;
    pen.strokeRect(barAt + 0.5, top + 0.5, 7, this.rowTop(rows) - top - 1);
    pen.textAlign = "center";
    pen.fillStyle = "#222222";
    const everyStitch = numberStep(side, 7 * String(columns).length + 4);
    for (let x = 0; x < columns; x++) {
      const number = sheet.stitch_numbers[x];
      if (number === 1 || number % everyStitch === 0)
        pen.fillText(String(number), left + (x + 0.5) * side, this.rowTop(rows) + 9);
    }
  }

  /** @param {number} x @param {number} y */
  drawSquare(x, y) {
    const { pen, frame } = this;
    const { sheet, cells, marks, ghost } = this.state;
    const { side } = frame;
    const index = y * sheet.columns + x;
    const left = frame.left + x * side;
    const top = this.rowTop(y);
    const tall = this.tall(y);
    pen.fillStyle = sheet.inks[cells[index]][y];
    pen.fillRect(left, top, side, tall);
    pen.fillStyle = "#8a8a8a";
    pen.fillRect(left, top, side, sheet.heavy_rows.includes(y) ? 2 : 0.5);
    pen.fillRect(left, top, sheet.heavy_columns.includes(x) ? 2 : 0.5, tall);
    if (marks[index] === 2) this.hatch(left, top, tall);
    else if (marks[index] === 1) this.dots(left, top, tall);
    if (ghost[index]) this.star(left, top, tall);
    const plan = this.planned.get(index);
    if (plan !== undefined) this.bead(left, top, tall, sheet.inks[plan][y]);
  }

  /** @param {number} left @param {number} top @param {number} tall */
  hatch(left, top, tall) {
    const { pen } = this;
    const { side } = this.frame;
    for (const [ink, width] of /** @type {[string, number][]} */ ([["#ffffff", 3], ["#000000", 1.2]])) {
      pen.strokeStyle = ink;
      pen.lineWidth = width;
      pen.beginPath();
      for (const part of [0.35, 0.7, 1]) {
        pen.moveTo(left + 1, top + part * tall - 1);
        pen.lineTo(left + part * side - 1, top + 1);
      }
      pen.moveTo(left + 0.5 * side, top + tall - 1);
      pen.lineTo(left + side - 1, top + 0.5 * tall);
      pen.stroke();
    }
  }

  /** @param {number} left @param {number} top @param {number} tall */
  dots(left, top, tall) {
    const { pen } = this;
    const { side } = this.frame;
    const dot = Math.max(1, Math.min(side, tall) / 10);
    for (const part of [0.25, 0.5, 0.75]) {
      pen.fillStyle = "#ffffff";
      pen.fillRect(left + part * side - dot, top + tall - 3 * dot, 2 * dot, 2 * dot);
      pen.fillStyle = "#000000";
      pen.fillRect(left + part * side - dot / 2, top + tall - 2.5 * dot, dot, dot);
    }
  }

  /** @param {number} left @param {number} top @param {number} tall */
  star(left, top, tall) {
    const { pen } = this;
    const { side } = this.frame;
    pen.fillStyle = "#ffffff";
    pen.strokeStyle = "#000000";
    pen.lineWidth = 1.5;
    pen.beginPath();
    pen.arc(left + side / 2, top + tall / 2, Math.min(side, tall) * 0.28, 0, 7);
    pen.fill();
    pen.stroke();
  }

  /** A square that the keyboard would draw, in the colour that it would get.
   * @param {number} left @param {number} top @param {number} tall @param {string} ink */
  bead(left, top, tall, ink) {
    const { pen } = this;
    const { side } = this.frame;
    pen.fillStyle = "#c2185b";
    pen.fillRect(left + 0.22 * side, top + 0.22 * tall, 0.54 * side, 0.54 * tall);
    pen.fillStyle = ink;
    pen.fillRect(left + 0.28 * side, top + 0.28 * tall, 0.42 * side, 0.42 * tall);
  }

  /** Mark what the keyboard would draw now, and no longer what it would have drawn. */
  drawPlan() {
    const before = this.planned;
    const now = this.state.plan();
    if (!before.size && !now.size) return;
    this.planned = now;
    const { columns, rows } = this.state.sheet;
    for (const index of new Set([...before.keys(), ...now.keys()]))
      if (before.get(index) !== now.get(index) && index < columns * rows)
        this.drawSquare(index % columns, Math.floor(index / columns));
  }

  /** Draw what differs from what was drawn before.
   * @param {{ cells: Uint8Array, marks: Uint8Array, ghost: Uint8Array }} before */
  drawChanged(before) {
    const { cells, marks, ghost, sheet } = this.state;
    for (let index = 0; index < cells.length; index++) {
      if (cells[index] !== before.cells[index] || marks[index] !== before.marks[index] || ghost[index] !== before.ghost[index])
        this.drawSquare(index % sheet.columns, Math.floor(index / sheet.columns));
    }
    this.drawFocus();
  }

  /** Draw what was just told. */
  drawUnheard() {
    const { cells, marks, ghost } = this.state;
    this.state.layUnheard();
    this.drawChanged({ cells, marks, ghost });
  }

  /** Give a square another colour.
   * @param {number} index @param {number} value */
  put(index, value) {
    const { cells, sheet } = this.state;
    if (cells[index] === value) return;
    cells[index] = value;
    this.drawSquare(index % sheet.columns, Math.floor(index / sheet.columns));
  }

  /** Another sheet is to be drawn, on which nothing is outlined yet. */
  forgetFocus() {
    this.drawnFocus = this.state.here;
    this.drawnSelection = this.drawnLaying = null;
  }

  drawFocus() {
    this.drawPlan();
    const { state } = this;
    const { columns } = state.sheet;
    /** @type {Set<number>} */
    const outlined = new Set(); // an outline touches the squares around it, many of them from several sides
    for (const box of [this.drawnSelection, this.drawnLaying, /** @type {Box} */ ([...this.drawnFocus, ...this.drawnFocus])])
      for (const [x, y] of box ? edgeOf(box) : [])
        for (const [nx, ny] of boxSquares(x - 1, y - 1, x + 1, y + 1)) if (state.holds(nx, ny)) outlined.add(ny * columns + nx);
    for (const index of outlined) this.drawSquare(index % columns, Math.floor(index / columns));
    const shown = state.selected;
    if (shown) this.outline(shown[0], shown[1], shown[2] - shown[0] + 1, shown[3] - shown[1] + 1, [4, 3]);
    const lies = state.layingBox;
    if (lies) this.outline(lies[0], lies[1], lies[2] - lies[0] + 1, lies[3] - lies[1] + 1, []);
    this.drawnLaying = lies;
    this.drawnFocus = state.here;
    this.outline(...this.drawnFocus, 1, 1, []);
    this.drawnSelection = shown;
  }

  /** @param {number} x @param {number} y @param {number} wide @param {number} high @param {number[]} dashes */
  outline(x, y, wide, high, dashes) {
    const { pen } = this;
    const { left, side } = this.frame;
    const [top, below] = [this.rowTop(y), this.rowTop(y + high)];
    const box = /** @type {const} */ ([left + x * side + 1, top + 1, wide * side - 2, below - top - 2]);
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
  zoom(factor) {
    this.frame.side = Math.max(3, Math.min(48, Math.round(this.frame.side * factor) + (factor > 1 ? 1 : 0)));
    this.drawAll();
  }

  /** Fit the picture into the room there is, and begin where the work begins; once it is shown, if it is not now. */
  fit() {
    const { scroll } = this;
    this.unfitted = !scroll.clientWidth;
    if (this.unfitted) return;
    const { sheet } = this.state;
    this.frame.side = Math.max(6, Math.min(24, Math.floor((scroll.clientWidth - 60) / sheet.columns)));
    this.drawAll();
    scroll.scrollLeft = sheet.edge === "right" ? scroll.scrollWidth : 0;
    scroll.scrollTop = scroll.scrollHeight;
  }

  /** Bring the square in focus into sight. */
  showFocus() {
    const { scroll, frame } = this;
    const { side } = frame;
    const [x, y] = this.state.here;
    const [left, top, tall] = [frame.left + x * side, this.rowTop(y), this.tall(y)];
    if (left < scroll.scrollLeft) scroll.scrollLeft = left - side;
    if (left + side > scroll.scrollLeft + scroll.clientWidth) scroll.scrollLeft = left + 2 * side - scroll.clientWidth;
    if (top < scroll.scrollTop) scroll.scrollTop = top - tall;
    if (top + tall > scroll.scrollTop + scroll.clientHeight) scroll.scrollTop = top + 2 * tall - scroll.clientHeight;
  }

  /** The square under a pointer, or null beside the picture.
   * @param {PointerEvent} event @returns {Square | null} */
  under(event) {
    const box = this.canvas.getBoundingClientRect();
    const { rows, columns } = this.state.sheet;
    return squareAt(event.clientX - box.left, event.clientY - box.top, this.frame, columns, rows);
  }
}
