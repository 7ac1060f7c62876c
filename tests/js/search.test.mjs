// The search of the documentation: how words fall together, and which page comes first. Run by tests/test_jobs.py.
import assert from "node:assert/strict";
import { test } from "node:test";
import { answers, indexOf, oneApart } from "../../docs/search/ranking.js";
import { readerOf, stemOf, wordsOf } from "../../docs/search/words.js";

const none = { spellings: [], synonyms: [], small: "" };
const table = {
  spellings: ["grey, gray", "centre, center"],
  synonyms: ["border, frame, edging", "center out, from the centre", "left-handed, lefty", "cowl, in the round"],
  small: "how do i a the in from",
};
/** @param {[string, string][]} texts a page each, by title, with one place */
const site = (...texts) => indexOf(texts.map(([title, text]) => [`${title}.html`, title, 1, [["", title, text]]]));
/** @param {ReturnType<typeof site>} index @param {string} question */
const found = (index, question, words = table) =>
  answers(index, readerOf(words)(question), question).map(({ title }) => title);

test("forms of a word are one, and other words are others", () => {
  for (const forms of [
    "frame frames framed framing", "crop crops cropped cropping", "stitch stitches stitched", "edge edges edging edged",
    "size sizes sizing sized", "square squares", "entry entries", "colour colours coloured", "class classes", "owl owls",
  ]) assert.equal(new Set(forms.split(" ").map(stemOf)).size, 1, forms);
  for (const apart of ["owl bowl growl", "ring string ringlet", "round ground", "row arrow", "this the", "basis base", "tog-b tog-f"])
    assert.equal(new Set(apart.split(" ").map(stemOf)).size, apart.split(" ").length, apart);
});

test("a text falls into words whatever stands between them, and a name is one and its parts", () => {
  assert.deepEqual(wordsOf("A café’s left-handed row; mk.plan_widths(2)"), [
    "a", "cafe", "left", "handed", "row", "mk", "plan_widths", "plan", "widths", "2",
  ]);
});

test("a question finds other spellings, other words, and words of two words; without the table it finds none", () => {
  const index = site(["Edge", "how an edging is worked in grey"], ["Middle", "begin from the centre"],
    ["Hand", "for left-handed makers"], ["Round", "worked in the round"], ["Off", "the round ball in a corner"]);
  assert.deepEqual(found(index, "center out"), ["Middle"]);
  assert.deepEqual(found(index, "lefty"), ["Hand"]);
  for (const [question, title] of [["frame", "Edge"], ["framing", "Edge"], ["gray", "Edge"]]) {
    assert.deepEqual(found(index, question), [title], question);
    assert.deepEqual(found(index, question, none), [], question);
  }
  // all words of a way must be there, and small words ask for nothing
  assert.deepEqual(found(index, "how do i cowl"), ["Round", "Off"]);
  assert.deepEqual(found(index, "left hand", none), ["Hand"]);
});

test("the score of a word is that of the formula, worked out by hand", () => {
  // headings and titles of the page count 6 and 3 times as one word each; both places have 4 words
  const index = site(["one", "owl owl"], ["two", "moth fern"]);
  assert.equal(index.usual, 4);
  const [{ score }] = answers(index, readerOf(none)("owl"));
  const rare = Math.log(1 + (2 - 1 + 0.5) / (1 + 0.5));
  assert.ok(Math.abs(score - (rare * 2) / (2 + 1.5)) < 1e-12);
});

test("said in a heading comes before said in a text, all words before some, the word before another word for it", () => {
  assert.deepEqual(found(site(["a text", "yarn"], ["yarn", "of wool"]), "yarn"), ["yarn", "a text"]);
  const headings = indexOf([
    ["t.html", "t", 1, [["", "of wool", "yarn yarn yarn"]]],
    ["h.html", "h", 1, [["", "yarn", "of wool of wool"]]],
  ]);
  assert.deepEqual(found(headings, "yarn"), ["h", "t"]);
  const owls = site(["x", "owl owl owl owl"], ["y", "owl yarn"], ["a", "yarn"], ["b", "yarn"], ["c", "yarn"], ["z", "moth"]);
  assert.deepEqual(found(owls, "owl yarn").slice(0, 2), ["y", "x"]);
  assert.deepEqual(found(site(["x", "frame"], ["y", "border"]), "border"), ["y", "x"]);
});

test("a word that is nowhere is taken for the beginning of one, for two, or for one with a letter wrong", () => {
  const index = site(["x", "symmetry"], ["y", "gauge"], ["z", "for left-handed makers"]);
  assert.deepEqual(found(index, "lefthanded", none), ["z"]);
  assert.deepEqual(found(index, "symm"), ["x"]);
  assert.deepEqual(found(index, "symetry"), ["x"]);
  assert.deepEqual(found(index, "guage"), ["y"]);
  assert.deepEqual(found(index, "nonsense"), []);
  assert.deepEqual(found(index, ""), []);
  assert.ok(!oneApart("gauge", "gagues") && !oneApart("fram", "from"));
});

test("a name as it is written in Python leads to what has it", () => {
  const index = site(["mend with nearest_workable", "nearest_workable"], ["mk.nearest_workable", "gives a motif of many words"]);
  const [one, two] = found(index, "nearest workable");
  assert.deepEqual([one, two], ["mend with nearest_workable", "mk.nearest_workable"]);
  for (const name of ["mk.nearest_workable", "nearest_workable()"]) assert.deepEqual(found(index, name), [two, one], name);
});
