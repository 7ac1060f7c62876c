// The pure helpers of the very file that ships. Run by `node --test`, which tests/test_loops.py calls.
import assert from "node:assert/strict";
import { test } from "node:test";
import { lookOf } from "../../mosaickit/widgets/loops.js";
import { squareAfter } from "../../mosaickit/widgets/loops_hand.js";
import { columnInWords } from "../../mosaickit/widgets/loops_page.js";

test("arrows lead to the neighbour, and at an edge nowhere", () => {
  // 0 1 2
  // 3 4 5
  const after = (/** @type {string} */ key, /** @type {number} */ square) => squareAfter(key, square, 2, 3);
  assert.deepEqual(["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"].map((key) => after(key, 4)), [3, 5, 1, 4]);
  assert.deepEqual(["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"].map((key) => after(key, 0)), [0, 1, 0, 3]);
  assert.equal(after("ArrowRight", 2), 2);
});

test("Home and End lead along the row, other keys nowhere", () => {
  assert.equal(squareAfter("Home", 5, 2, 3), 3);
  assert.equal(squareAfter("End", 3, 2, 3), 5);
  assert.equal(squareAfter("x", 3, 2, 3), 3);
});

test("a look is put together from the tables, and is null where there are none", () => {
  const pictures = [{ picture: "<a/>", words: ["up"] }, { picture: "<b/>", words: ["down"] }];
  /** @type {[number, number][]} */
  const of = [[0, 1], [1, 0]];
  const looks = { said: ["one.", "two."], pictures, of };
  assert.deepEqual(lookOf({ looks }, 0), { said: "one.", picture: "<b/>", words: ["down"] });
  assert.deepEqual(lookOf({ looks }, 1), { said: "two.", picture: "<a/>", words: ["up"] });
  assert.equal(lookOf({ looks: null }, 0), null);
});

test("a column is said from the top down, without what is not there", () => {
  const words = columnInWords(["row 3", "row 2", "row 1"], ["", "BLsc, front loop free", "sc"]);
  assert.equal(words, "The column from the side. row 2: BLsc, front loop free; row 1: sc.");
});
