// The pure helpers of the very files that ship. Run by `node --test`, which tests/test_guide.py calls with the data of
// a chart of 7 rows of 7 stitches as Python lays it out.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { painted } from "../../mosaickit/widgets/guide_face.js";
import { inTheBrowser, mannered } from "../../mosaickit/widgets/guide_keeping.js";
import { ahead, back, groupAt, kindAt, placed } from "../../mosaickit/widgets/guide_places.js";
import { saidAt, wordsOf } from "../../mosaickit/widgets/guide_words.js";

const data = JSON.parse(readFileSync(process.env.GUIDE_DATA ?? "", "utf-8"));
const start = { rows: 0, stitches: 0, moves: 0 };
const end = { rows: 7, stitches: 0, moves: 0 };
const order = (/** @type {any} */ place) => place.rows * 1e6 + place.stitches * 1e3 + place.moves;

/** @param {"move" | "stitch" | "group" | "row"} pace */
function walk(pace) {
  const places = [start];
  while (places.at(-1)?.rows !== 7) places.push(ahead(/** @type {any} */ (places.at(-1)), pace, data));
  return places;
}

test("every pace leads from the start to the end, and back through the same places", () => {
  for (const pace of /** @type {const} */ (["move", "stitch", "group", "row"])) {
    const places = walk(pace);
    assert.deepEqual(places.at(-1), end);
    for (let at = 1; at < places.length; at++) {
      assert.ok(order(places[at]) > order(places[at - 1]));
      assert.deepEqual(back(places[at], pace, data), places[at - 1]);
      assert.deepEqual(placed(places[at], data), places[at]);
    }
    assert.deepEqual(ahead(end, pace, data), end);
    assert.deepEqual(back(start, pace, data), start);
  }
});

test("paces take as many steps as there are stitches, rows, groups and moves", () => {
  assert.equal(walk("stitch").length, 7 * 7 + 1);
  assert.equal(walk("row").length, 7 + 1);
  const groups = data.work.map((/** @type {any} */ row) => data.lines[row.line].groups.length / 4);
  assert.equal(walk("group").length, groups.reduce((/** @type {number} */ a, /** @type {number} */ b) => a + b, 1));
  const ways = data.work.flatMap((/** @type {any} */ row) => data.orders[row.order]);
  assert.equal(walk("move").length, ways.reduce((/** @type {number} */ sum, /** @type {number} */ way) =>
    sum + data.kinds[data.ways[way][0]].moves.length, 1));
});

test("a step back within a stitch, a group or a row goes to its start", () => {
  const inside = { rows: 2, stitches: 3, moves: 1 };
  assert.deepEqual(back(inside, "stitch", data), { ...inside, moves: 0 });
  assert.deepEqual(back(inside, "group", data), { rows: 2, stitches: groupAt(inside, data).first, moves: 0 });
  assert.deepEqual(back(inside, "row", data), { rows: 2, stitches: 0, moves: 0 });
});

test("a place that is none starts at the beginning", () => {
  for (const place of [null, undefined, {}, "x", { rows: -1, stitches: 0, moves: 0 }, { rows: 7, stitches: 1, moves: 0 },
    { rows: 0, stitches: 7, moves: 0 }, { rows: 0.5, stitches: 0, moves: 0 }]) {
    assert.deepEqual(placed(place, data), start);
  }
  assert.deepEqual(placed({ rows: 0, stitches: 2, moves: 9 }, data), { rows: 0, stitches: 2, moves: 0 });
});

test("the group of a stitch holds it", () => {
  for (const place of walk("stitch").slice(0, -1)) {
    const group = groupAt(place, data);
    assert.ok(group.first <= place.stitches && place.stitches < group.end);
    const run = wordsOf(data.lines[data.work[place.rows].line], 0, data)[2 * group.run + 1];
    assert.ok(run.startsWith(`${kindAt(place, data).name} in `));
  }
});

test("a manner that is none is brought in", () => {
  const usual = { pace: "stitch", style: 0, large: false, seconds: 5 };
  for (const told of [null, undefined, "x", { pace: "dance", style: 2, large: "yes", seconds: "many" }, { style: -1 }]) {
    assert.deepEqual(mannered(told, data), usual);
  }
  const own = { pace: "group", style: 1, large: true, seconds: 2.5 };
  assert.deepEqual(mannered(own, data), own);
  assert.equal(mannered({ seconds: 1e9 }, data).seconds, 600);
  assert.equal(mannered({ seconds: -1 }, data).seconds, 0.5);
  assert.equal(mannered(null, { ...data, style: 1 }).style, 1);
});

test("a face grows by a square a stitch, from the edge where rows start", () => {
  const front = data.faces[0];
  assert.deepEqual(painted(front, start), []);
  assert.deepEqual(painted(front, { rows: 0, stitches: 2, moves: 0 }), [[front.paint[0].ink, 6, 5, 2]]);
  assert.deepEqual(painted(data.faces[1], { rows: 0, stitches: 2, moves: 0 }), [[front.paint[0].ink, 6, 0, 2]]);
  const whole = painted(front, end).filter(([, , , length]) => length === 7);
  assert.equal(whole.length, 7);
});

test("what is said names the row once, the stitch, the move and the loops", () => {
  assert.equal(saidAt(start, "stitch", data), "Row 1, cream. Stitch 1: single crochet.".replace("cream", data.work[0].yarn));
  assert.equal(saidAt({ rows: 0, stitches: 1, moves: 0 }, "stitch", data), "Stitch 2: single crochet.");
  assert.equal(saidAt({ rows: 0, stitches: 1, moves: 1 }, "move", data), "Yarn over, draw up a loop. 2 loops on the hook.");
  assert.match(saidAt({ rows: 0, stitches: 1, moves: 0 }, "group", data), /single crochet, 7 stitches/);
  assert.match(saidAt({ rows: 2, stitches: 0, moves: 0 }, "row", data), /^Row 3, .*back loop single crochet in each stitch across/);
  assert.equal(saidAt(end, "move", data), "All rows are done.");
  assert.equal(kindAt({ rows: 0, stitches: 1, moves: 0 }, data).name, "sc");
});

const set = (/** @type {any} */ storage) =>
  Object.defineProperty(globalThis, "localStorage", { value: storage, configurable: true });
const no = () => { throw new Error("no"); };

test("a browser that keeps nothing still has a guide, for as long as the page is open", () => {
  set({ getItem: no, setItem: no });
  const store = inTheBrowser("guide");
  assert.equal(store.kept(), false);
  assert.equal(store.load(), null);
  store.save(end);
  assert.deepEqual(store.load(), end);
  assert.equal(inTheBrowser("guide").load(), null);
});

test("what the browser keeps is found again, place and manner, and what is spoilt is nothing", () => {
  const kept = new Map();
  const storage = { getItem: (/** @type {string} */ key) => kept.get(key) ?? null, setItem: kept.set.bind(kept) };
  set(storage);
  const store = inTheBrowser("guide");
  store.save(end);
  store.keepManner({ pace: "row", style: 1, large: true, seconds: 9 });
  assert.equal(store.kept(), true);
  assert.deepEqual(inTheBrowser("guide").load(), end);
  assert.equal(inTheBrowser("guide").manner().pace, "row");
  assert.equal(inTheBrowser("another").load(), null);
  // a browser that is full holds what it held, the open page goes on, and when there is room again all is kept
  set({ ...storage, setItem: no });
  store.save(start);
  assert.deepEqual([store.kept(), store.load()], [false, start]);
  assert.deepEqual(inTheBrowser("guide").load(), end);
  set(storage);
  store.save(start);
  assert.deepEqual([store.kept(), inTheBrowser("guide").load()], [true, start]);
  kept.set("guide", "{");
  assert.equal(store.load(), null);
});
