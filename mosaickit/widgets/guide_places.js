// @ts-check
/**
 * Places in a chart, and the steps from one to the next. A place counts what is done: rows, stitches of the row in hand,
 * moves of the stitch in hand. What there is at a place comes as data; nothing of the craft is known here.
 */

/**
 * @typedef {{ rows: number, stitches: number, moves: number }} Place
 * @typedef {"move" | "stitch" | "group" | "row"} Pace
 * @typedef {{ text: string, loops: number, enters: [number, string] | null, over: string }} Move
 * @typedef {{ name: string, words: string, moves: Move[], shows: number[], note: string }} Kind
 * @typedef {{ first: number, end: number, run: number, times: string, said: string }} Group
 * @typedef {{ pieces: number[], groups: number[] }} Line
 * @typedef {{ role: string, yarn: string, changes: boolean, inks: number[], line: number, order: number, height: string }} Work
 * @typedef {{ ink: number, runs: [number, number, number][] }} Paint
 * @typedef {{ name: string, columns: number[], paint: Paint[] }} Face
 * @typedef {{
 *   title: string, row: string, rows: number, stitches: number, style: number, styles: string[], about: string[][],
 *   inks: string[], view_box: string, columns: string[], kinds: Kind[], ways: [number, number][], orders: number[][],
 *   pieces: string[][], times: string[], said: string[], lines: Line[], work: Work[], faces: Face[], aspect: number,
 * }} Data
 */

/** The place as it is if it lies in the chart, else the start.
 * @param {any} place @param {Data} data @returns {Place} */
export function placed(place, data) {
  const start = { rows: 0, stitches: 0, moves: 0 };
  if (!place) return start;
  const { rows, stitches, moves } = place;
  if (![rows, stitches, moves].every((number) => Number.isInteger(number) && number >= 0)) return start;
  if (rows === data.rows && stitches === 0 && moves === 0) return { rows, stitches, moves };
  if (rows >= data.rows || stitches >= data.stitches) return start;
  return moves < kindAt(place, data).moves.length ? { rows, stitches, moves } : { rows, stitches, moves: 0 };
}

/** What is made at a place, and on which column, as numbers.
 * @param {Place} place @param {Data} data */
export function wayAt(place, data) {
  return data.ways[data.orders[data.work[place.rows].order][place.stitches]];
}

/** How the stitch in hand is made.
 * @param {Place} place @param {Data} data */
export function kindAt(place, data) {
  return data.kinds[wayAt(place, data)[0]];
}

/** The run of the row's words that the stitch in hand is in.
 * @param {Place} place @param {Data} data @returns {Group} */
export function groupAt(place, data) {
  const { groups } = data.lines[data.work[place.rows].line];
  let at = 0; // four numbers a group
  while (groups[at] <= place.stitches) at += 4;
  const [end, run, times, said] = groups.slice(at, at + 4);
  return { first: at > 0 ? groups[at - 4] : 0, end, run, times: data.times[times], said: data.said[said] };
}

/** @param {Place} place @param {Data} data */
export function isDone(place, data) {
  return place.rows === data.rows;
}

/** @param {number} rows @param {number} stitches @param {Data} data @returns {Place} */
function stitchesDone(rows, stitches, data) {
  return stitches < data.stitches ? { rows, stitches, moves: 0 } : { rows: rows + 1, stitches: 0, moves: 0 };
}

/** The place one step on.
 * @param {Place} place @param {Pace} pace @param {Data} data @returns {Place} */
export function ahead(place, pace, data) {
  if (isDone(place, data)) return place;
  if (pace === "row") return { rows: place.rows + 1, stitches: 0, moves: 0 };
  if (pace === "group") return stitchesDone(place.rows, groupAt(place, data).end, data);
  if (pace === "move" && place.moves + 1 < kindAt(place, data).moves.length) return { ...place, moves: place.moves + 1 };
  return stitchesDone(place.rows, place.stitches + 1, data);
}

/** The place one step back.
 * @param {Place} place @param {Pace} pace @param {Data} data @returns {Place} */
export function back(place, pace, data) {
  if (pace === "move" && place.moves > 0) return { ...place, moves: place.moves - 1 };
  if (pace === "stitch" && place.moves > 0) return { ...place, moves: 0 };
  const inRow = place.stitches > 0 || place.moves > 0;
  if (pace === "row") return { rows: inRow ? place.rows : Math.max(place.rows - 1, 0), stitches: 0, moves: 0 };
  if (pace === "group" && inRow) {
    const { first } = groupAt(place, data);
    if (first < place.stitches || place.moves > 0) return { ...place, stitches: first, moves: 0 };
  }
  if (place.stitches === 0 && place.rows === 0) return { rows: 0, stitches: 0, moves: 0 };
  const before =
    place.stitches > 0
      ? { rows: place.rows, stitches: place.stitches - 1, moves: 0 }
      : { rows: place.rows - 1, stitches: data.stitches - 1, moves: 0 };
  if (pace === "group") return { ...before, stitches: groupAt(before, data).first };
  return pace === "move" ? { ...before, moves: kindAt(before, data).moves.length - 1 } : before;
}
