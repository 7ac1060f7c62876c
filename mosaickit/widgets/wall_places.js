// @ts-check
/** Where a key leads on a wall of tiles, whatever hangs on it. */

/** The place that a key leads to on a wall of so many tiles, so many across; the same place if there is none.
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
