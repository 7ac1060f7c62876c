// The pure helper of the very file that ships. Run by `node --test`, which tests/test_explorer.py calls.
import assert from "node:assert/strict";
import { test } from "node:test";
import { placeAfter } from "../../mosaickit/widgets/wall_places.js";

test("arrows lead to neighbours on the wall and never off it", () => {
  assert.equal(placeAfter("ArrowRight", 3, 10, 4), 4);
  assert.equal(placeAfter("ArrowLeft", 0, 10, 4), 0);
  assert.equal(placeAfter("ArrowDown", 3, 10, 4), 7);
  assert.equal(placeAfter("ArrowDown", 7, 10, 4), 7);
  assert.equal(placeAfter("ArrowUp", 5, 10, 4), 1);
  assert.equal(placeAfter("ArrowUp", 2, 10, 4), 2);
  assert.equal(placeAfter("Home", 7, 10, 4), 0);
  assert.equal(placeAfter("End", 2, 10, 4), 9);
  assert.equal(placeAfter("a", 2, 10, 4), 2);
});
