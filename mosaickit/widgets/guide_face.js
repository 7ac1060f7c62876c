// @ts-check
/** A face of the fabric as it grows under the hook. */

import { isDone } from "./guide_places.js";

/**
 * @typedef {import("./guide_places.js").Data} Data
 * @typedef {import("./guide_places.js").Face} Face
 * @typedef {import("./guide_places.js").Place} Place
 */

const WIDEST = 300; // pixels of a face

/** What is painted on a face, as [ink, from the top, from the left, how many]; of the row in hand what is done.
 * @param {Face} face @param {Place} place @returns {[number, number, number, number][]} */
export function painted(face, place) {
  /** @type {[number, number, number, number][]} */
  const found = [];
  face.paint.slice(0, place.rows).forEach(({ ink, runs }) => {
    for (const [top, left, length] of runs) found.push([ink, top, left, length]);
  });
  const now = face.paint[place.rows];
  if (now && place.stitches > 0) {
    const done = face.columns.slice(0, place.stitches);
    const [from, to] = [Math.min(...done), Math.max(...done) + 1];
    for (const [top, left, length] of now.runs) {
      const [start, end] = [Math.max(left, from), Math.min(left + length, to)];
      if (start < end) found.push([now.ink, top, start, end - start]);
    }
  }
  return found;
}

/** Draw a face as far as it is done, with the stitch in hand outlined.
 * @param {Face} face @param {HTMLCanvasElement} canvas @param {Place} place @param {Data} data */
export function paintFace(face, canvas, place, data) {
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  const high = Math.min(14, WIDEST / (data.stitches * data.aspect), WIDEST / data.rows);
  const wide = high * data.aspect;
  const sharp = window.devicePixelRatio || 1;
  const [width, height] = [data.stitches * wide, data.rows * high];
  canvas.width = Math.max(width * sharp, 1);
  canvas.height = Math.max(height * sharp, 1);
  canvas.style.width = `${width}px`;
  canvas.setAttribute("aria-label", `${face.name}: ${place.rows} of ${data.rows} ${data.row.toLowerCase()}s done.`);
  pen.setTransform(sharp, 0, 0, sharp, 0, 0);
  /** @param {number} top @param {number} left @param {number} length */
  const box = (top, left, length) => /** @type {[number, number, number, number]} */ (
    [left * wide, top * high, length * wide, high]);
  for (const [ink, top, left, length] of painted(face, place)) {
    pen.fillStyle = data.inks[ink];
    pen.fillRect(...box(top, left, length));
  }
  if (isDone(place, data)) return;
  const [row] = face.paint[place.rows].runs;
  for (const [colour, line, mark] of /** @type {const} */ ([
    ["#ffffff", 4, box(row[0], face.columns[place.stitches], 1)],
    ["#c2185b", 2, box(row[0], face.columns[place.stitches], 1)],
  ])) {
    pen.strokeStyle = colour;
    pen.lineWidth = line;
    pen.strokeRect(...mark);
  }
}
