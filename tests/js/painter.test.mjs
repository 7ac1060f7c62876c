// The pure helpers of the very files that ship. Run by `node --test`, which tests/test_painter.py calls.
import assert from "node:assert/strict";
import { test } from "node:test";
import { numberStep } from "../../mosaickit/widgets/painter_drawing.js";
import { boxSquares, fillSquares, growingStroke, lineSquares, squareAt, within } from "../../mosaickit/widgets/painter_squares.js";
import { bytesOf } from "../../mosaickit/widgets/painter_state.js";

test("a line has no gaps and both its ends", () => {
  for (const [x0, y0, x1, y1] of [[0, 0, 7, 3], [5, 9, 2, 0], [4, 4, 4, 4], [0, 5, 9, 5]]) {
    const line = lineSquares(x0, y0, x1, y1);
    assert.deepEqual(line[0], [x0, y0]);
    assert.deepEqual(line.at(-1), [x1, y1]);
    for (let i = 1; i < line.length; i++) {
      const [dx, dy] = [line[i][0] - line[i - 1][0], line[i][1] - line[i - 1][1]];
      assert.ok(Math.max(Math.abs(dx), Math.abs(dy)) === 1, `gap in ${line}`);
    }
  }
});

test("a box is the same from any of its corners", () => {
  const box = boxSquares(1, 2, 3, 3);
  assert.equal(box.length, 6);
  assert.deepEqual(boxSquares(3, 3, 1, 2), box);
  assert.deepEqual(boxSquares(1, 3, 3, 2), box);
});

test("a fill stops at the other colour and does not pass corners", () => {
  // . # .
  // # . #
  // . . .
  const cells = Uint8Array.from([0, 1, 0, 1, 0, 1, 0, 0, 0]);
  const filled = fillSquares(cells, 3, 1, 1).map(([x, y]) => y * 3 + x).sort();
  assert.deepEqual(filled, [4, 6, 7, 8]);
  assert.deepEqual(fillSquares(cells, 3, 0, 0), [[0, 0]]);
});

/** What Python sends for a picture of 5 × 4 that is kept mirrored and repeats every so many squares. */
const follow = (across, up, turns) => ({ across, up, turns, row_is_cc: [true, false, true, false] });
const HERE = [1, 0, 1, 0], MIRROR = [-1, 4, 1, 0], UPSIDE_DOWN = [1, 0, -1, 3];
const sorted = (painted) => [...painted].sort((a, b) => a[0] - b[0]);

test("squares follow the hand, in the other colour on rows of the other colour", () => {
  const growing = growingStroke(follow(5, 4, [HERE, MIRROR, UPSIDE_DOWN]), 5, 4);
  growing.add([[0, 0, 1], [2, 1, 1]]);
  assert.deepEqual(sorted(growing.painted), [[0, 1], [4, 1], [7, 1], [12, 0], [15, 0]]);
  const repeated = growingStroke(follow(2, 4, [HERE]), 5, 4);
  repeated.add([[1, 1, 1], [9, 9, 1]]);
  assert.deepEqual(sorted(repeated.painted), [[6, 1], [8, 1]]);
});

test("the hand's own squares come first, and the first to name a square counts", () => {
  const growing = growingStroke(follow(5, 4, [HERE, MIRROR]), 5, 4);
  growing.add([[0, 0, 1], [4, 0, 0], [4, 0, 1]]);
  assert.deepEqual(sorted(growing.painted), [[0, 1], [4, 0]]);
});

test("a stroke is the same in however many pieces it comes", () => {
  const squares = Array.from({ length: 40 }, (_, at) => [(at * 7) % 5, (at * 3) % 4, (at >> 1) % 2]);
  const whole = growingStroke(follow(3, 2, [HERE, MIRROR, UPSIDE_DOWN]), 5, 4);
  whole.add(squares);
  const pieces = growingStroke(follow(3, 2, [HERE, MIRROR, UPSIDE_DOWN]), 5, 4);
  for (const square of squares) pieces.add([square]);
  assert.deepEqual(sorted(pieces.painted), sorted(whole.painted));
});

test("a point is in a square or beside the picture", () => {
  const frame = { left: 10, top: 4, side: 12, high: 12 };
  assert.deepEqual(squareAt(10, 4, frame, 3, 2), [0, 0]);
  assert.deepEqual(squareAt(45.9, 27.9, frame, 3, 2), [2, 1]);
  for (const [x, y] of [[9.9, 5], [46, 5], [12, 3.9], [12, 28]]) assert.equal(squareAt(x, y, frame, 3, 2), null);
});

test("a point is in the row that is drawn there, however high rows are", () => {
  for (const high of [7.3, 12.5, 32, 22.588]) {
    const frame = { left: 0, top: 4, side: 12, high };
    const tops = Array.from({ length: 31 }, (_, y) => 4 + Math.round(y * high)); // as they are drawn
    for (let y = 0; y < 30; y++)
      for (const py of [tops[y], tops[y] + 0.6, tops[y + 1] - 1, tops[y + 1] - 0.1])
        assert.deepEqual(squareAt(5, py, frame, 1, 30), [0, y], `${py} at ${high}`);
  }
});

test("numbers are thinned where there is no room for all", () => {
  assert.deepEqual([24, 12, 6, 3].map((side) => numberStep(side, 11)), [1, 1, 5, 5]);
  assert.equal(numberStep(0.05, 11), 100);
});

test("bytes are copied whatever they come wrapped in", () => {
  const whole = Uint8Array.from([9, 1, 2, 3, 9]);
  assert.deepEqual([...bytesOf(new DataView(whole.buffer, 1, 3))], [1, 2, 3]);
  assert.deepEqual([...bytesOf(whole.buffer)], [9, 1, 2, 3, 9]);
  assert.equal(bytesOf(null).length, 0);
  const copy = bytesOf(whole);
  copy[0] = 0;
  assert.equal(whole[0], 9);
});

test("a box holds its corners and nothing beside them", () => {
  const box = [2, 3, 4, 3];
  for (const square of [[2, 3], [3, 3], [4, 3]]) assert.ok(within(square, box));
  for (const square of [[1, 3], [5, 3], [2, 2], [4, 4]]) assert.ok(!within(square, box));
});
