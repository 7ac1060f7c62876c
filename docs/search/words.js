// Words of a search: how a text falls into words, which endings count for nothing, and what else may be meant.
// The documentation and the gallery both use it, with the table of words.toml.

/** A way to say what is wanted: stems that must all be there, and how much it counts beside the word itself.
 * @typedef {{ stems: string[], counts: number }} Way */
/** What a reader wants to find: the words as typed, and the ways in which a text may say it.
 * @typedef {{ typed: string, ways: Way[] }} Want */
/** @typedef {{ spellings: string[], synonyms: string[], small: string }} Table */

const A_SYNONYM_COUNTS = 0.7;

/** The words of a text in small letters without accents; a name such as `plan_widths` is one word and its parts.
 * @param {string} text @returns {string[]} */
export function wordsOf(text) {
  const plain = text.normalize("NFKD").replace(/\p{Mark}/gu, "").replace(/['’]s?\b/g, "").toLowerCase();
  return (plain.match(/[\p{Letter}\p{Number}_]+/gu) ?? []).flatMap((word) => {
    const parts = word.split("_").filter(Boolean);
    return parts.length > 1 ? [word, ...parts] : parts;
  });
}

/** A word without the endings -s, -ed, -ing and -e, so that all forms of it are one.
 * @param {string} word */
export function stemOf(word) {
  if (word.length < 4 || word.includes("_") || /\d/.test(word)) return word;
  let stem = word.replace(/ies$/, "y");
  stem = stem.replace(/(s|x|z|ch|sh)es$/, "$1").replace(/([^su])s$/, (all, before) => (before === "i" ? all : before));
  const shorter = stem.replace(/(ing|ed)$/, "");
  if (shorter !== stem && shorter.length > 2 && /[aeiouy]/.test(shorter))
    stem = shorter.replace(/([bdfgmnprt])\1$/, "$1");
  return stem.length > 3 ? stem.replace(/e$/, "") : stem;
}

/** @param {string} text */
export const stemsOf = (text) => wordsOf(text).map(stemOf);

/** Make a reader of questions from the table: what it gives for a question is what is wanted, word by word.
 * @param {Table} table @returns {(question: string) => Want[]} */
export function readerOf(table) {
  /** @type {Map<string, Way[]>} the other ways to say something, by its stems */
  const others = new Map();
  for (const [lines, counts] of /** @type {[string[], number][]} */ ([
    [table.spellings, 1],
    [table.synonyms, A_SYNONYM_COUNTS],
  ])) {
    for (const line of lines) {
      const group = line.split(",").map(stemsOf);
      for (const one of group) {
        const known = others.get(one.join(" ")) ?? [];
        known.push(...group.filter((other) => other !== one).map((stems) => ({ stems, counts })));
        others.set(one.join(" "), known);
      }
    }
  }
  const longest = Math.max(1, ...[...others.keys()].map((key) => key.split(" ").length));
  const small = new Set(wordsOf(table.small));

  return (question) => {
    const words = wordsOf(question).filter((word, at, all) => word.includes("_") || !all[at - 1]?.includes("_"));
    const wants = /** @type {Want[]} */ ([]);
    for (let at = 0; at < words.length; ) {
      let take = Math.min(longest, words.length - at);
      const key = () => words.slice(at, at + take).map(stemOf).join(" ");
      while (take > 1 && !others.has(key())) take--;
      const typed = words.slice(at, at + take);
      if (take > 1 || !small.has(words[at])) {
        const ways = [{ stems: typed.map(stemOf), counts: 1 }, ...(others.get(key()) ?? [])];
        wants.push({ typed: typed.join(" "), ways: ways.map((way) => withSpellings(way, others)).flat() });
      }
      at += take;
    }
    // where nothing else was said, small words are all there is
    return wants.length || !words.length
      ? wants
      : words.map((word) => ({ typed: word, ways: [{ stems: [stemOf(word)], counts: 1 }] }));
  };
}

/** A way, and the same in other spellings of its words.
 * @param {Way} way @param {Map<string, Way[]>} others @returns {Way[]} */
function withSpellings(way, others) {
  return way.stems.reduce(
    (ways, stem, at) => [
      ...ways,
      ...ways.flatMap((one) =>
        (others.get(stem) ?? [])
          .filter((other) => other.counts === 1 && other.stems.length === 1)
          .map((other) => ({ ...one, stems: one.stems.map((same, place) => (place === at ? other.stems[0] : same)) })),
      ),
    ],
    [way],
  );
}
