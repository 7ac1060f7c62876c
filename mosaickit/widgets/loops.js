// @ts-check
/**
 * Squares to touch, and the column below the one that was touched. What a square is made by, why it cannot be worked,
 * pictures, sentences and numbers all come from Python, where squares are changed too; the page knows only where each
 * one lies. Squares are numbered as seen, row by row from the top left.
 */

import { make } from "./elements.js";
import { Link } from "./link.js";

/**
 * @typedef {{ picture: string, words: string[] }} Column
 * @typedef {Column & { said: string }} Look
 * @typedef {{
 *   rows: number, columns: number, aspect: number, title: string, edge: "left" | "right",
 *   row_numbers: number[], stitch_numbers: number[], colours: string[], colour_of: number[],
 *   kinds: string[], kind_of: number[], wrong: number[], start: number, verdict: string,
 *   names: string[][], inks: string[][], view_box: string, legend: string,
 *   looks: { said: string[], pictures: Column[], of: [number, number][] } | null,
 * }} Shown
 */

/** The square that a key leads to; the same one if there is none.
 * @param {string} key @param {number} square @param {number} rows @param {number} columns
 * @returns {number} */
export function squareAfter(key, square, rows, columns) {
  /** @type {Record<string, [number, number]>} */
  const steps = {
    ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1], Home: [-columns, 0], End: [columns, 0],
  };
  const [across, down] = steps[key] ?? [0, 0];
  const x = Math.min(Math.max((square % columns) + across, 0), columns - 1);
  const y = Math.min(Math.max(Math.floor(square / columns) + down, 0), rows - 1);
  return y * columns + x;
}

/** What was sent beforehand about a square; null if Python has to be asked.
 * @param {Pick<Shown, "looks">} shown @param {number} square
 * @returns {Look | null} */
export function lookOf({ looks }, square) {
  if (!looks) return null;
  const [said, picture] = looks.of[square];
  return { said: looks.said[said], ...looks.pictures[picture] };
}

/** A column for those who cannot see it, from the top down.
 * @param {string[]} names @param {string[]} words
 * @returns {string} */
export function columnInWords(names, words) {
  const rows = names.map((name, level) => [name, words[level]]).filter(([, word]) => word);
  return `The column from the side. ${rows.map((row) => row.join(": ")).join("; ")}.`;
}

const BESIDE = 36; // pixels that numbers take
const SILENT =
  "Not connected to Python: the picture cannot be changed here. In a notebook, run the cell again to go on.";

/** @param {{ model: any, el: HTMLElement }} given */
function render({ model, el }) {
  const listening = new AbortController();
  const { signal } = listening;
  /** @type {{ seq: number, square: number } | null} */
  let asked = null; // the look that Python was asked for last

  /** @type {Shown} */ let shown = model.get("shown");
  let chosen = shown.start;
  let focus = chosen;
  /** @type {HTMLElement[]} */
  let cells = [];

  // ---- the page -----------------------------------------------------------------------------------------

  const frame = make("div", { className: "mk-loopview", role: "group" });
  frame.setAttribute("aria-label", "Loop view");
  const banner = make("div", { className: "mk-banner", role: "alert" });
  banner.hidden = true;
  const verdict = make("p", { className: "mk-verdict" });
  const grid = make("div", { className: "mk-grid", role: "grid" });
  const squares = make("div", { className: "mk-squares" });
  squares.append(grid);
  const picture = make("div", { className: "mk-column", role: "img" });
  const legend = make("div", { className: "mk-legend" });
  const side = make("div", { className: "mk-side" });
  side.append(picture, legend);
  const body = make("div", { className: "mk-body" });
  body.append(squares, side);
  const said = make("p", { className: "mk-said", role: "status" });
  const change = /** @type {HTMLButtonElement} */ (make("button", { className: "mk-change" }));
  change.type = "button";
  change.title = "Key X, or press a square twice";
  change.textContent = "Change this square";
  frame.append(banner, verdict, body, said, change);
  el.append(frame);

  /** Lay out the squares as seen, with row numbers at the working edge and stitch numbers below. */
  function layOut() {
    cells = [];
    const rows = shown.row_numbers.map((number) => {
      const row = make("div", { className: "mk-row", role: "row" });
      const line = shown.stitch_numbers.map(() => {
        const cell = make("div", { className: "mk-square", role: "gridcell" });
        cell.dataset.square = String(cells.length);
        cells.push(cell);
        return cell;
      });
      row.append(...line);
      putNumber(row, String(number), "rowheader");
      return row;
    });
    const below = make("div", { className: "mk-row", role: "row" });
    for (const number of shown.stitch_numbers) {
      const cell = make("div", { className: "mk-number mk-below", role: "columnheader" });
      cell.textContent = String(number);
      below.append(cell);
    }
    putNumber(below, "", "gridcell");
    grid.replaceChildren(...rows, below);
    frame.style.setProperty("--mk-columns", String(shown.columns));
    frame.style.setProperty("--mk-aspect", String(shown.aspect));
  }

  /** @param {HTMLElement} row @param {string} text @param {string} role */
  function putNumber(row, text, role) {
    const cell = make("div", { className: "mk-number", role });
    cell.textContent = text;
    if (shown.edge === "left") row.prepend(cell);
    else row.append(cell);
  }

  function paint() {
    grid.setAttribute("aria-label", shown.title);
    verdict.textContent = shown.verdict;
    legend.innerHTML = shown.legend; // a picture, made by Python
    cells.forEach((cell, square) => {
      cell.style.backgroundColor = shown.colours[shown.colour_of[square]];
      cell.classList.toggle("mk-wrong", shown.wrong[square] === 1);
      cell.classList.remove("mk-asked");
      cell.setAttribute("aria-label", `${placeOf(square)}: ${shown.kinds[shown.kind_of[square]]}`);
    });
  }

  /** @param {number} square */
  function placeOf(square) {
    const row = shown.row_numbers[Math.floor(square / shown.columns)];
    return `Row ${row}, stitch ${shown.stitch_numbers[square % shown.columns]}`;
  }

  // ---- touching -----------------------------------------------------------------------------------------

  /** @param {number} square */
  function touch(square) {
    chosen = square;
    moveTo(square);
    cells.forEach((cell, at) => cell.setAttribute("aria-selected", String(at === chosen)));
    const look = lookOf(shown, square);
    if (look) tell(look);
    else asked = { seq: link.send({ kind: "look", square }), square };
  }

  /** @param {number} square */
  function moveTo(square) {
    focus = square;
    cells.forEach((cell, at) => (cell.tabIndex = at === focus ? 0 : -1));
  }

  /** Bring a square of a large picture into sight, with the numbers beside it if it lies there; the page stays.
   * @param {number} square */
  function reveal(square) {
    const [cell, room] = [cells[square].getBoundingClientRect(), squares.getBoundingClientRect()];
    squares.scrollLeft += Math.min(cell.left - BESIDE - room.left, 0) + Math.max(cell.right + BESIDE - room.right, 0);
    squares.scrollTop += Math.min(cell.top - BESIDE - room.top, 0) + Math.max(cell.bottom + BESIDE - room.bottom, 0);
  }

  /** @param {Look} look */
  function tell(look) {
    const line = Math.floor(chosen / shown.columns);
    const words = `${placeOf(chosen)}: ${look.said}`;
    if (said.textContent !== words) said.textContent = words;
    // a drawing, made by Python
    picture.innerHTML = `<svg viewBox="${shown.view_box}" aria-hidden="true">${look.picture}</svg>`;
    picture.setAttribute("aria-label", columnInWords(shown.names[line], look.words));
    for (const name of picture.querySelectorAll("text[data-level]"))
      name.textContent = shown.names[line][Number(name.getAttribute("data-level"))];
    shown.inks[line].forEach((ink, level) => picture.style.setProperty(`--mk-yarn${level}`, ink));
  }

  /** @param {number} square */
  function changeSquare(square) {
    chosen = square;
    cells[square].classList.add("mk-asked"); // until Python has answered
    link.send({ kind: "change", square });
  }

  /** @param {Event} event */
  function squareOf(event) {
    const cell = /** @type {HTMLElement} */ (event.target).closest("[data-square]");
    return cell ? Number(/** @type {HTMLElement} */ (cell).dataset.square) : null;
  }

  grid.addEventListener("click", (event) => {
    const square = squareOf(event);
    if (square === null) return;
    touch(square);
    cells[square].focus({ preventScroll: true });
  }, { signal });
  grid.addEventListener("dblclick", (event) => {
    const square = squareOf(event);
    if (square !== null) changeSquare(square);
  }, { signal });
  change.addEventListener("click", () => changeSquare(chosen), { signal });

  frame.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.key === "Tab") return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    if (squareOf(event) === null) return;
    const next = squareAfter(event.key, focus, shown.rows, shown.columns);
    if (next !== focus) {
      moveTo(next);
      cells[next].focus();
    } else if (event.key === "Enter" || event.key === " ") touch(focus);
    else if (event.key.toLowerCase() === "x") {
      touch(focus);
      changeSquare(focus);
    } else if (!event.key.startsWith("Arrow")) return;
    event.preventDefault();
  }, { signal });

  // ---- talking to Python ----------------------------------------------------------------------------------

  /** @type {Link} */
  const link = new Link(model, { hears: hear, changes: showTrouble });

  function showTrouble() {
    banner.textContent = SILENT;
    banner.hidden = link.connected;
    if (!link.connected) paint(); // nothing is being changed
  }

  /** @param {any} answer */
  function hear(answer) {
    showTrouble();
    if (answer.look && asked?.seq === answer.seq && asked?.square === chosen) tell(answer.look);
    if (answer.error) {
      said.textContent = answer.error;
      paint();
    }
  }

  function follow() {
    const before = shown;
    shown = model.get("shown");
    const another = ["rows", "columns", "edge"].some((name) => /** @type {any} */ (before)[name] !== /** @type {any} */ (shown)[name]);
    if (another) {
      chosen = shown.start;
      focus = chosen;
      layOut();
      requestAnimationFrame(() => reveal(chosen));
    }
    const held = focus; // the hand may have moved on since
    paint();
    touch(chosen);
    moveTo(held);
  }

  model.on("change:shown", follow);
  layOut();
  paint();
  touch(chosen);
  requestAnimationFrame(() => reveal(chosen)); // not before it has a size
  return () => {
    listening.abort();
    link.end();
    model.off("change:shown", follow);
  };
}

export default { render };
