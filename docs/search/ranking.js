// Which pages answer a question best. Each place of a page, from one heading to the next, is weighed by itself, as
// search engines do (BM25, Robertson and Zaragoza, "The Probabilistic Relevance Framework", 2009): a rare word tells
// more than a common one, said ten times is not ten times as much, and a short place that says it is about it.

import { stemOf, stemsOf } from "./words.js";

/** @typedef {import("./words.js").Want} Want */
/** @typedef {import("./words.js").Way} Way */
/** A page as it is stored: its file, title, how much it counts, and its places: anchor, heading, text.
 * @typedef {[file: string, title: string, counts: number, places: [anchor: string, heading: string, text: string][]]} Page */
/** @typedef {{ page: number, anchor: string, heading: string, text: string, length: number }} Place */
/** @typedef {{ pages: Page[], places: Place[], found: Map<string, Map<number, number>>, usual: number }} Index */
/** @typedef {{ file: string, title: string, score: number, places: Place[], stems: Set<string> }} Answer */

const SATURATED = 1.5, LENGTH_COUNTS = 0.5;
const IN_HEADING = 6, IN_TITLE = 3;
const FURTHER_PLACES = [1, 0.15, 0.05]; // what the best places of a page add to its score
const NAMED = 3;
const BEGINNING_COUNTS = 0.7, MISTYPED_COUNTS = 0.5;

/** @param {Page[]} pages @returns {Index} */
export function indexOf(pages) {
  const places = /** @type {Place[]} */ ([]);
  /** @type {Index["found"]} how often each place has a stem; in a heading it counts more */
  const found = new Map();
  pages.forEach(([, title, , parts], page) => {
    for (const [anchor, heading, text] of parts) {
      const at = places.length;
      let length = 0;
      const take = (/** @type {string} */ words, /** @type {number} */ times) => {
        for (const stem of stemsOf(words)) {
          let of = found.get(stem);
          if (!of) found.set(stem, (of = new Map()));
          of.set(at, (of.get(at) ?? 0) + times);
          length++;
        }
      };
      take(heading, IN_HEADING);
      take(title, IN_TITLE);
      take(text, 1);
      places.push({ page, anchor, heading, text, length });
    }
  });
  const usual = places.reduce((sum, { length }) => sum + length, 0) / Math.max(1, places.length);
  return { pages, places, found, usual };
}

/** The pages that answer best, the best first, each with its best places.
 * @param {Index} index @param {Want[]} wants
 * @param {string} [question] as it was typed: where it is a name of Python, what has this name comes first
 * @returns {Answer[]} */
export function answers(index, wants, question = "") {
  const { places, pages } = index;
  /** @type {{ score: number, told: number, stems: Set<string> }[]} */
  const scores = places.map(() => ({ score: 0, told: 0, stems: new Set() }));
  let asked = 0;
  for (const want of wants) {
    const says = saying(index, want.ways) ?? saying(index, guessed(index, want));
    const few = says ? Math.log(1 + (places.length - says.size + 0.5) / (says.size + 0.5)) : Math.log(places.length + 1);
    asked += few;
    says?.forEach(({ much, stems }, at) => {
      scores[at].score += few * much;
      scores[at].told += few;
      stems.forEach((stem) => scores[at].stems.add(stem));
    });
  }
  /** @type {Map<number, number[]>} */
  const byPage = new Map();
  const name = question.trim().replace(/\(\)$/, "");
  scores.forEach((each, at) => {
    if (/[._]/.test(name) && `.${places[at].heading}`.endsWith(`.${name}`)) each.score *= NAMED;
    each.score *= (each.told / asked) ** 1.5; // who answers half of a question does not answer half of it
    if (each.score) byPage.set(places[at].page, [...(byPage.get(places[at].page) ?? []), at]);
  });
  return [...byPage]
    .map(([page, all]) => {
      const best = all.sort((one, two) => scores[two].score - scores[one].score || one - two).slice(0, FURTHER_PLACES.length);
      const score = best.reduce((sum, at, rank) => sum + FURTHER_PLACES[rank] * scores[at].score, 0);
      const [file, title, counts] = pages[page];
      const stems = new Set(best.flatMap((at) => [...scores[at].stems]));
      return { file, title, score: score * counts, places: best.map((at) => places[at]), stems };
    })
    .sort((one, two) => two.score - one.score || (one.file < two.file ? -1 : 1));
}

/** How much each place says it, in the way that counts most there; nothing where no place does.
 * @param {Index} index @param {Way[]} ways */
function saying({ places, found, usual }, ways) {
  /** @type {Map<number, { much: number, stems: string[] }>} */
  const says = new Map();
  for (const { stems, counts } of ways) {
    const [first, ...more] = stems.map((stem) => found.get(stem));
    first?.forEach((_, at) => {
      const times = [first, ...more].map((of) => of?.get(at) ?? 0);
      const few = SATURATED * (1 - LENGTH_COUNTS + (LENGTH_COUNTS * places[at].length) / usual);
      const much = counts * Math.min(...times.map((time) => time / (time + few)));
      if (much > (says.get(at)?.much ?? 0)) says.set(at, { much, stems });
    });
  }
  return says.size ? says : null;
}

/** What a word that is nowhere may be: the beginning of another, two words, or another with one letter wrong.
 * @param {Index} index @param {Want} want @returns {Way[]} */
function guessed({ found }, { typed, ways }) {
  const [{ stems }] = ways;
  if (stems.length > 1 || typed.length < 3) return [];
  const words = [...found.keys()];
  const begun = words.filter((word) => word.startsWith(typed));
  if (begun.length) return begun.map((word) => ({ stems: [word], counts: BEGINNING_COUNTS }));
  const halves = [...typed].map((_, at) => [typed.slice(0, at), typed.slice(at)]);
  const two = halves.filter((both) => both.every((half) => half.length > 2 && found.has(stemOf(half))));
  if (two.length) return two.map((both) => ({ stems: both.map(stemOf), counts: BEGINNING_COUNTS }));
  const near = typed.length > 4 ? words.filter((word) => oneApart(word, stems[0])) : [];
  return near.map((word) => ({ stems: [word], counts: MISTYPED_COUNTS }));
}

/** Whether two words differ by one letter that is missing, too many, or changed places with the next, or is wrong.
 * @param {string} one @param {string} two */
export function oneApart(one, two) {
  if (Math.abs(one.length - two.length) > 1) return false;
  let same = 0;
  while (same < one.length && one[same] === two[same]) same++;
  const [a, b] = [one.slice(same), two.slice(same)];
  return (
    (a.slice(1) === b.slice(1) && one.length > 4) || // a wrong letter makes another word of a short one
    a.slice(1) === b ||
    a === b.slice(1) ||
    (a.length > 1 && a[0] === b[1] && a[1] === b[0] && a.slice(2) === b.slice(2))
  );
}
