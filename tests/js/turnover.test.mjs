// The pure helpers of the very file that ships. Run by `node --test`, which tests/test_turnover.py calls.
import assert from "node:assert/strict";
import { test } from "node:test";
import { FRONT, channels, extent, moved, piecesOf, rotation, sideSeen } from "../../mosaickit/widgets/turnover_space.js";

const near = (/** @type {number[]} */ found, /** @type {number[]} */ expected) =>
  found.forEach((value, at) => assert.ok(Math.abs(value - expected[at]) < 1e-9, `${found} is not ${expected}`));
/** @param {number[]} turned @param {number[]} point */
const times = (turned, [x, y, z]) => [0, 1, 2].map((row) => turned[row] * x + turned[row + 3] * y + turned[row + 6] * z);

test("half a turn brings left to right and the back to the front, and leaves up where it is", () => {
  near(rotation(FRONT), [1, 0, 0, 0, 1, 0, 0, 0, 1]);
  near(times(rotation({ ...FRONT, turn: 180 }), [1, 2, 3]), [-1, 2, -3]);
  near(times(rotation({ ...FRONT, turn: 90 }), [1, 2, 3]), [3, 2, -1]);
  near(times(rotation({ ...FRONT, tilt: 90 }), [1, 2, 3]), [1, -3, 2]);
});

test("a rotation keeps lengths, whatever the hold", () => {
  for (const turn of [-170, -45, 0, 33, 120]) {
    for (const tilt of [-90, -20, 0, 55]) {
      const [x, y, z] = times(rotation({ turn, tilt, zoom: 2 }), [1, -2, 0.5]);
      assert.ok(Math.abs(Math.hypot(x, y, z) - Math.hypot(1, -2, 0.5)) < 1e-9);
    }
  }
});

test("a turn goes round, a tilt and the size have ends", () => {
  assert.equal(moved(FRONT, 190, 0).turn, -170);
  assert.equal(moved(FRONT, -190, 0).turn, 170);
  assert.equal(moved(FRONT, 0, 120).tilt, 90);
  assert.equal(moved(FRONT, 0, -120).tilt, -90);
  assert.equal(moved(FRONT, 0, 0, 100).zoom, 8);
  assert.equal(moved(FRONT, 0, 0, 0.001).zoom, 0.5);
});

test("the side that faces the viewer has a name", () => {
  assert.equal(sideSeen(FRONT), "front");
  assert.equal(sideSeen({ ...FRONT, turn: 60 }), "front");
  assert.equal(sideSeen({ ...FRONT, turn: 90 }), "edge on");
  assert.equal(sideSeen({ ...FRONT, turn: 180 }), "back");
  assert.equal(sideSeen({ ...FRONT, turn: -179, tilt: 20 }), "back");
});

test("lines become pieces between neighbours, and none from line to line", () => {
  const points = new Float32Array([0, 0, 0, 1, 0, 0, 1, 1, 0, 5, 5, 5, 6, 5, 5]);
  const pieces = piecesOf(points, [[3, 0], [2, 1]]);
  assert.deepEqual([...pieces], [0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 5, 5, 5, 6, 5, 5, 1]);
  assert.deepEqual(extent(points), [6, 5, 5]);
});

test("a colour is read as three shares", () => near(channels("#ff8000"), [1, 128 / 255, 0]));
