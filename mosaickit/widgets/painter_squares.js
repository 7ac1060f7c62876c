// @ts-check
/**
 * Squares of a sheet, numbered as seen, row by row from the top left: which ones a line, a box or a fill takes, and which
 * ones follow the hand.
 */

/**
 * @typedef {{ turns: number[][], across: number, up: number, row_is_cc: boolean[] }} Follow
 * What follows the hand: each turn [sx, ox, sy, oy] takes (x, y) to (sx * x + ox, sy * y + oy), and the squares that
 * are a multiple of `across` and of `up` away from there follow too, in the other colour where the row is of the other colour.
 *
 * @typedef {[number, number]} Square x from the left and y from the top
 * @typedef {[number, number, number, number]} Box the least x and y and the greatest, all included
 */

/** A fraction rounded to a whole number, halves up.
 * @param {number} top @param {number} below */
function rounded(top, below) {
  return below ? Math.floor((2 * top + below) / (2 * below)) : 0;
}

/** The squares on a straight line between two squares, both included, without gaps.
 * @param {number} x0 @param {number} y0 @param {number} x1 @param {number} y1
 * @returns {[number, number][]} */
export function lineSquares(x0, y0, x1, y1) {
  const steps = Math.max(Math.abs(x1 - x0), Math.abs(y1 - y0));
  /** @type {[number, number][]} */
  const squares = [];
  for (let step = 0; step <= steps; step++) {
    squares.push([x0 + rounded(step * (x1 - x0), steps), y0 + rounded(step * (y1 - y0), steps)]);
  }
  return squares;
}

/** The tools that draw between two squares: from where the hand is put down, or from a first corner, to where it is. */
export const BETWEEN = new Set(["line", "box", "ellipse"]);

/** What a tool draws between two squares; a brush goes along the line between them.
 * @param {string} tool @param {Square} from @param {Square} to @param {number} ink @returns {number[][]} */
export function drawnWith(tool, from, to, ink) {
  const drawn = tool === "box" ? boxSquares : tool === "ellipse" ? ellipseSquares : lineSquares;
  const squares = drawn(...from, ...to);
  return squares.map(([x, y]) => [x, y, ink]);
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

/** The squares whose middle is in the ellipse that fills the box between two corners, and its middle rows and columns.
 * @param {number} x0 @param {number} y0 @param {number} x1 @param {number} y1
 * @returns {[number, number][]} */
export function ellipseSquares(x0, y0, x1, y1) {
  const [wide, high] = [Math.abs(x1 - x0) + 1, Math.abs(y1 - y0) + 1];
  return boxSquares(x0, y0, x1, y1).filter(([x, y]) => {
    const [across, up] = [Math.abs(2 * x - x0 - x1), Math.abs(2 * y - y0 - y1)];
    return across <= 1 || up <= 1 || (across * high) ** 2 + (up * wide) ** 2 <= (wide * high) ** 2;
  });
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
 * @param {number} px @param {number} py @param {{ left: number, top: number, side: number, high: number }} frame
 * @param {number} columns @param {number} rows
 * @returns {[number, number] | null} */
export function squareAt(px, py, frame, columns, rows) {
  const x = Math.floor((px - frame.left) / frame.side);
  // a row begins at the whole pixel that is nearest, the later one of two
  const y = Math.ceil((Math.floor(py - frame.top) + 0.5) / frame.high) - 1;
  return x < 0 || y < 0 || x >= columns || y >= rows ? null : [x, y];
}

/** Whether a square lies in a box, given by its least and greatest x and y.
 * @param {[number, number]} square @param {[number, number, number, number]} box
 * @returns {boolean} */
export function within([x, y], [x0, y0, x1, y1]) {
  return x >= x0 && x <= x1 && y >= y0 && y <= y1;
}
