// @ts-check
/** Where yarn lies in space, and how a hand holds it. */

/** How the fabric is held: turned about its upright and its level axis, in degrees, and how large.
 * @typedef {{ turn: number, tilt: number, zoom: number }} Hold */

/** @type {Hold} */
export const FRONT = { turn: 0, tilt: 0, zoom: 1 };

/** The hold after a move; a turn stays within half a circle either way, a tilt within a quarter.
 * @param {Hold} hold @param {number} turn @param {number} tilt @param {number} [zoom]
 * @returns {Hold} */
export function moved(hold, turn, tilt, zoom = 1) {
  return {
    turn: ((((hold.turn + turn + 180) % 360) + 360) % 360) - 180,
    tilt: Math.min(Math.max(hold.tilt + tilt, -90), 90),
    zoom: Math.min(Math.max(hold.zoom * zoom, 0.5), 8),
  };
}

/** Which side faces the viewer, in words.
 * @param {Hold} hold */
export function sideSeen({ turn, tilt }) {
  const facing = Math.cos((turn * Math.PI) / 180) * Math.cos((tilt * Math.PI) / 180);
  if (Math.abs(facing) < 0.2) return "edge on";
  return facing > 0 ? "front" : "back";
}

/** The rotation of a hold as nine numbers, column by column.
 * @param {Hold} hold
 * @returns {number[]} */
export function rotation({ turn, tilt }) {
  const [a, b] = [(turn * Math.PI) / 180, (tilt * Math.PI) / 180];
  const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
  return [ca, sb * sa, -cb * sa, 0, cb, sb, sa, -sb * ca, cb * ca];
}

/** The pieces of all lines: both ends and the colour of each, seven numbers.
 * @param {Float32Array} points @param {[number, number][]} lines
 * @returns {Float32Array} */
export function piecesOf(points, lines) {
  const count = lines.reduce((sum, [length]) => sum + length - 1, 0);
  const pieces = new Float32Array(7 * count);
  let [at, piece] = [0, 0];
  for (const [length, colour] of lines) {
    for (let k = 0; k < length - 1; k++, piece++) {
      pieces.set(points.subarray(3 * (at + k), 3 * (at + k) + 6), 7 * piece);
      pieces[7 * piece + 6] = colour;
    }
    at += length;
  }
  return pieces;
}

/** Red, green and blue of "#rrggbb", from 0 to 1.
 * @param {string} colour */
export function channels(colour) {
  return [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16) / 255);
}

/** @param {Float32Array} points
 * @returns {[number, number, number]} */
export function extent(points) {
  /** @type {[number, number, number]} */
  const size = [0, 0, 0];
  for (let axis = 0; axis < 3; axis++) {
    let [low, high] = [Infinity, -Infinity];
    for (let at = axis; at < points.length; at += 3) {
      low = Math.min(low, points[at]);
      high = Math.max(high, points[at]);
    }
    size[axis] = high - low;
  }
  return size;
}
