// @ts-check
/** What a guide says at a place, to be read and to be heard, put together from texts that come as data. */

import { groupAt, isDone, kindAt } from "./guide_places.js";

/**
 * @typedef {import("./guide_places.js").Data} Data
 * @typedef {import("./guide_places.js").Line} Line
 * @typedef {import("./guide_places.js").Pace} Pace
 * @typedef {import("./guide_places.js").Place} Place
 */

/** The styles of the rows in the order in which the data holds them; rows are read aloud in words. */
const IN_WORDS = 1;

/** A row's words in pieces; every second one, the first time at place 1, is a run.
 * @param {Line} line @param {number} style @param {Data} data */
export function wordsOf(line, style, data) {
  return line.pieces.map((piece) => data.pieces[piece][style]);
}

/** @param {number} loops */
export function onTheHook(loops) {
  return `${loops} ${loops === 1 ? "loop" : "loops"} on the hook`;
}

/** What is said at a place, for ears.
 * @param {Place} place @param {Pace} pace @param {Data} data */
export function saidAt(place, pace, data) {
  if (isDone(place, data)) return "All rows are done.";
  const work = data.work[place.rows];
  const row = `${data.row} ${place.rows + 1}`;
  const yarn = `${work.changes ? "change to " : ""}${work.yarn || work.role}`;
  if (pace === "row") {
    return `${row}, ${yarn}: ${wordsOf(data.lines[work.line], IN_WORDS, data).join("")}.`;
  }
  const starts = place.stitches === 0 && place.moves === 0 ? `${row}, ${yarn}. ` : "";
  if (pace === "group") return `${starts}${groupAt(place, data).said}.`;
  const kind = kindAt(place, data);
  if (pace === "stitch") return `${starts}Stitch ${place.stitches + 1}: ${kind.words}.`;
  const stitch = place.moves === 0 ? `Stitch ${place.stitches + 1}, ${kind.words}. ` : "";
  const move = kind.moves[place.moves];
  return `${starts}${stitch}${move.text} ${onTheHook(move.loops)}.`;
}
