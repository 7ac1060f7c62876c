// @ts-check
/** What a loop view hears of the hand: a square touched, walked to by key, or to be changed. */

/**
 * @typedef {{
 *   focus: number, chosen: number, shown: { rows: number, columns: number }, cells: HTMLElement[],
 *   touch: (square: number) => void, moveTo: (square: number) => void, change: (square: number) => void,
 * }} Touched
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

/** @param {Event} event */
function squareOf(event) {
  const cell = /** @type {HTMLElement} */ (event.target).closest("[data-square]");
  return cell ? Number(/** @type {HTMLElement} */ (cell).dataset.square) : null;
}

/** Obey pointer and keys.
 * @param {Touched} view @param {{ frame: HTMLElement, grid: HTMLElement, change: HTMLElement }} page
 * @param {AbortSignal} signal */
export function obeyTouch(view, { frame, grid, change }, signal) {
  grid.addEventListener("click", (event) => {
    const square = squareOf(event);
    if (square === null) return;
    view.touch(square);
    view.cells[square].focus({ preventScroll: true });
  }, { signal });
  grid.addEventListener("dblclick", (event) => {
    const square = squareOf(event);
    if (square !== null) view.change(square);
  }, { signal });
  change.addEventListener("click", () => view.change(view.chosen), { signal });
  frame.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.key === "Tab") return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    if (squareOf(event) === null) return;
    const next = squareAfter(event.key, view.focus, view.shown.rows, view.shown.columns);
    if (next !== view.focus) {
      view.moveTo(next);
      view.cells[next].focus();
    } else if (event.key === "Enter" || event.key === " ") view.touch(view.focus);
    else if (event.key.toLowerCase() === "x") {
      view.touch(view.focus);
      view.change(view.focus);
    } else if (!event.key.startsWith("Arrow")) return;
    event.preventDefault();
  }, { signal });
}
