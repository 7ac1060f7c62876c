// The pure helper of the very file that ships. Run by `node --test`, which tests/test_planner.py calls.
import assert from "node:assert/strict";
import { test } from "node:test";
import { sorted } from "../../mosaickit/widgets/chooser.js";

const lines = [[1, 9], [2, 4], [3, null], [4, 9], [5, 12]].map(([key, by]) => ({ key, cells: [], by: [key, by] }));
const keys = (/** @type {any[]} */ found) => found.map((line) => line.key);

test("lines are sorted by number, equal ones stay as they were, unknown ones come last", () => {
  assert.deepEqual(keys(sorted(lines, { column: 1, down: false })), [2, 1, 4, 5, 3]);
  assert.deepEqual(keys(sorted(lines, { column: 1, down: true })), [5, 1, 4, 2, 3]);
  assert.deepEqual(keys(sorted(lines, null)), [1, 2, 3, 4, 5]);
  assert.deepEqual(keys(lines), [1, 2, 3, 4, 5]);
});

test("words are sorted as words", () => {
  const words = ["b", "a", "c"].map((by, key) => ({ key, cells: [], by: [by] }));
  assert.deepEqual(keys(sorted(words, { column: 0, down: false })), [1, 0, 2]);
});
