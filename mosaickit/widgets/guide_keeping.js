// @ts-check
/** What is kept of a guide between two sittings: the place, and the manner in which its maker likes to be led. */

/**
 * @typedef {import("./guide_places.js").Data} Data
 * @typedef {import("./guide_places.js").Pace} Pace
 * @typedef {import("./guide_places.js").Place} Place
 * @typedef {{ pace: Pace, style: number, large: boolean, seconds: number }} Manner
 * @typedef {{ load: () => any, save: (place: Place) => void, manner?: () => any, keepManner?: (manner: Manner) => void }} Store
 */

export const PACES = /** @type {const} */ ([
  ["stitch", "stitch by stitch"],
  ["move", "move by move"],
  ["group", "group by group"],
  ["row", "row by row"],
]);

/** What was told of the manner of a guide, where it is one, else as a guide starts.
 * @param {any} told @param {Data} data @returns {Manner} */
export function mannered(told, data) {
  const { pace, style, large, seconds } = told ?? {};
  return {
    pace: PACES.some(([name]) => name === pace) ? pace : "stitch",
    style: Number.isInteger(style) && style in data.styles ? style : data.style,
    large: large === true,
    seconds: secondsFrom(seconds),
  };
}

/** Seconds between steps, brought in where they are none.
 * @param {any} told */
export function secondsFrom(told) {
  return Math.min(Math.max(Number(told) || 5, 0.5), 600);
}

/** A store in the browser, for a guide without Python. Where the browser refuses, all is kept only while the page is
 * open, and `kept` says so.
 * @param {string} key */
export function inTheBrowser(key) {
  /** @type {Map<string, string>} */
  const refused = new Map(); // what the browser did not take

  /** @param {string} name @param {any} value */
  function write(name, value) {
    const text = JSON.stringify(value);
    try {
      localStorage.setItem(name, text);
      refused.delete(name);
    } catch {
      refused.set(name, text);
    }
  }

  /** @param {string} name */
  function read(name) {
    try {
      return JSON.parse(refused.get(name) ?? localStorage.getItem(name) ?? "null");
    } catch {
      return null;
    }
  }

  const ways = `${key}-manner`;
  write(key, read(key)); // a browser that takes nothing is known before the first step
  return {
    load: () => read(key),
    /** @param {Place} place */
    save: (place) => write(key, place),
    manner: () => read(ways),
    /** @param {Manner} manner */
    keepManner: (manner) => write(ways, manner),
    kept: () => !refused.has(key),
  };
}
