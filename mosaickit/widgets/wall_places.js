// @ts-check
/** How keys move about on a wall of tiles. */

/** The place to which a key moves, on a wall of `count` tiles with `across` in a line; another key stays where it is.
 * @param {string} key @param {number} place @param {number} count @param {number} across
 * @returns {number} */
export function placeAfter(key, place, count, across) {
  /** @type {Record<string, number>} */
  const steps = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -across, ArrowDown: across, Home: -place, End: count - 1 - place };
  const next = place + (steps[key] ?? 0);
  return next >= 0 && next < count ? next : place;
}

/** How many tiles stand in a line of the wall, as it is laid out now.
 * @param {HTMLElement[]} tiles
 * @returns {number} */
export function acrossOf(tiles) {
  return Math.max(tiles.filter((tile) => tile.offsetTop === tiles[0].offsetTop).length, 1);
}
