// @ts-check
/** What the loop view's page is made of: the squares with their numbers, the column beside them, and what is said. */

import { make } from "./elements.js";

/**
 * @typedef {{ picture: string, words: string[] }} Column
 * @typedef {Column & { said: string }} Look
 * @typedef {{ said: string[], pictures: Column[], of: [number, number][] }} Looks
 * @typedef {{
 *   rows: number, columns: number, aspect: number, title: string, edge: "left" | "right",
 *   row_numbers: number[], stitch_numbers: number[], colours: string[], colour_of: number[],
 *   kinds: string[], kind_of: number[], wrong: number[], start: number, verdict: string,
 *   names: string[][], inks: string[][], view_box: string, legend: string,
 *   looks: Looks | null,
 * }} Shown
 */

const BESIDE = 36; // pixels that numbers take

/** A column for those who cannot see it, from the top down.
 * @param {string[]} names @param {string[]} words
 * @returns {string} */
export function columnInWords(names, words) {
  const rows = names.map((name, level) => [name, words[level]]).filter(([, word]) => word);
  return `The column from the side. ${rows.map((row) => row.join(": ")).join("; ")}.`;
}

/** @param {string} className @param {string} role @param {string} [text] */
const cellOf = (className, role, text = "") => make("div", { className, role, textContent: text });

export class LoopsPage {
  /** @param {Shown} shown @param {boolean} changes whether there is anyone who changes squares */
  constructor(shown, changes) {
    this.shown = shown;
    /** @type {HTMLElement[]} */
    this.cells = [];
    this.banner = make("div", { className: "mk-banner", role: "alert", hidden: true });
    this.verdict = make("p", { className: "mk-verdict" });
    this.grid = make("div", { className: "mk-grid", role: "grid" });
    this.squares = make("div", { className: "mk-squares" }, [this.grid]);
    this.picture = make("div", { className: "mk-column", role: "img" });
    this.legend = make("div", { className: "mk-legend" });
    this.said = make("p", { className: "mk-said", role: "status" });
    this.change = make("button", {
      className: "mk-change", type: "button", title: "Key X, or press a square twice", textContent: "Change this square",
    });
    const side = make("div", { className: "mk-side" }, [this.picture, this.legend]);
    const body = make("div", { className: "mk-body" }, [this.squares, side]);
    this.frame = make("div", { className: "mk-loopview", role: "group" },
      [this.banner, this.verdict, body, this.said, ...(changes ? [this.change] : [])]);
    this.frame.setAttribute("aria-label", "Loop view");
  }

  /** Lay out the squares as seen, with row numbers at the working edge and stitch numbers below. */
  layOut() {
    const { shown } = this;
    this.cells = [];
    const rows = shown.row_numbers.map((number) => {
      const line = shown.stitch_numbers.map(() => {
        const cell = cellOf("mk-square", "gridcell");
        cell.dataset.square = String(this.cells.length);
        this.cells.push(cell);
        return cell;
      });
      return this.rowOf(line, String(number), "rowheader");
    });
    const below = shown.stitch_numbers.map((number) => cellOf("mk-number mk-below", "columnheader", String(number)));
    this.grid.replaceChildren(...rows, this.rowOf(below, "", "gridcell"));
    this.frame.style.setProperty("--mk-columns", String(shown.columns));
    this.frame.style.setProperty("--mk-aspect", String(shown.aspect));
  }

  /** A line of cells, with what stands at its working edge.
   * @param {HTMLElement[]} line @param {string} text @param {string} role */
  rowOf(line, text, role) {
    const number = cellOf("mk-number", role, text);
    const whole = this.shown.edge === "left" ? [number, ...line] : [...line, number];
    return make("div", { className: "mk-row", role: "row" }, whole);
  }

  paint() {
    const { shown } = this;
    this.grid.setAttribute("aria-label", shown.title);
    this.verdict.textContent = shown.verdict;
    this.legend.innerHTML = shown.legend; // a picture, made by Python
    this.cells.forEach((cell, square) => {
      cell.style.backgroundColor = shown.colours[shown.colour_of[square]];
      cell.classList.toggle("mk-wrong", shown.wrong[square] === 1);
      cell.classList.remove("mk-asked");
      cell.setAttribute("aria-label", `${this.placeOf(square)}: ${shown.kinds[shown.kind_of[square]]}`);
    });
  }

  /** @param {number} square */
  placeOf(square) {
    const row = this.shown.row_numbers[Math.floor(square / this.shown.columns)];
    return `Row ${row}, stitch ${this.shown.stitch_numbers[square % this.shown.columns]}`;
  }

  /** @param {number} chosen */
  choose(chosen) {
    this.cells.forEach((cell, at) => cell.setAttribute("aria-selected", String(at === chosen)));
  }

  /** @param {number} focus */
  moveTo(focus) {
    this.cells.forEach((cell, at) => (cell.tabIndex = at === focus ? 0 : -1));
  }

  /** Bring a square of a large picture into sight, with the numbers beside it if it lies there; the page stays.
   * @param {number} square */
  reveal(square) {
    const { squares } = this;
    const [cell, room] = [this.cells[square].getBoundingClientRect(), squares.getBoundingClientRect()];
    squares.scrollLeft += Math.min(cell.left - BESIDE - room.left, 0) + Math.max(cell.right + BESIDE - room.right, 0);
    squares.scrollTop += Math.min(cell.top - BESIDE - room.top, 0) + Math.max(cell.bottom + BESIDE - room.bottom, 0);
  }

  /** Show what there is to see below a square.
   * @param {number} square @param {Look} look */
  tell(square, look) {
    const { shown, picture, said } = this;
    const line = Math.floor(square / shown.columns);
    const words = `${this.placeOf(square)}: ${look.said}`;
    if (said.textContent !== words) said.textContent = words;
    // a drawing, made by Python
    picture.innerHTML = `<svg viewBox="${shown.view_box}" aria-hidden="true">${look.picture}</svg>`;
    picture.setAttribute("aria-label", columnInWords(shown.names[line], look.words));
    for (const name of picture.querySelectorAll("text[data-level]"))
      name.textContent = shown.names[line][Number(name.getAttribute("data-level"))];
    shown.inks[line].forEach((ink, level) => picture.style.setProperty(`--mk-yarn${level}`, ink));
  }
}
