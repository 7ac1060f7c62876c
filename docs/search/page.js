// The page of the search: answers as one types, each with where it says so. PAGES and WORDS come in files before it.

import { answers, indexOf } from "./ranking.js";
import { readerOf, stemsOf } from "./words.js";

/** @typedef {import("./ranking.js").Answer} Answer */
/** @typedef {import("./ranking.js").Page} Page */
/** @typedef {import("./words.js").Table} Table */

const AT_MOST = 20, AROUND = 90;

/** @param {string} tag @param {Record<string, string>} [with_] @param {...(Node | string)} inside */
function made(tag, with_ = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(with_)) element.setAttribute(name, value);
  element.append(...inside);
  return element;
}

/** A piece of a text around the first word that was looked for, with all such words marked.
 * @param {string} text @param {Set<string>} stems */
function excerpt(text, stems) {
  const words = [...text.matchAll(/[\p{Letter}\p{Number}_\p{Mark}]+/gu)].map(({ 0: word, index = 0 }) => ({ word, index }));
  const hits = words.filter(({ word }) => stemsOf(word).some((stem) => stems.has(stem)));
  const first = hits[0]?.index ?? 0;
  const from = first < AROUND ? 0 : text.indexOf(" ", first - AROUND) + 1;
  const most = from + 2.5 * AROUND;
  const end = text.length < most ? text.length : Math.max(text.lastIndexOf(" ", most), from + AROUND);
  const line = made("p", { class: "excerpt" }, from ? "… " : "");
  let at = from;
  for (const { word, index } of hits.filter(({ index }) => index >= from && index < end)) {
    line.append(text.slice(at, index), made("mark", {}, word));
    at = index + word.length;
  }
  line.append(text.slice(at, end), end < text.length ? " …" : "");
  return line;
}

/** @param {Answer} answer */
function shown({ file, title, places, stems }) {
  const [best, ...more] = places;
  const address = (/** @type {string} */ anchor) => encodeURI(file) + (anchor && `#${anchor}`);
  const item = made("li", {}, made("a", { href: address(best.anchor) }, best.heading));
  if (best.heading !== title) item.append(made("span", { class: "where" }, title));
  item.append(excerpt(best.text, stems));
  const others = more.filter(({ heading }) => heading !== best.heading);
  if (others.length) {
    const links = others.flatMap(({ anchor, heading }) => [", ", made("a", { href: address(anchor) }, heading)]);
    item.append(made("p", { class: "more" }, "Also here: ", ...links.slice(1)));
  }
  // Sphinx marks these words on the page that is opened
  const marked = [...new Set([...places.map((place) => place.text), title].join(" ").match(/[\p{Letter}_]+/gu))]
    .filter((word) => stemsOf(word).some((stem) => stems.has(stem)));
  item.addEventListener("click", () => {
    try {
      localStorage.setItem("sphinx_highlight_terms", marked.map((word) => word.toLowerCase()).join(" "));
    } catch {} // a browser may keep nothing for a page on disk
  });
  return item;
}

/** @param {Page[]} pages @param {Table} table */
export function searchPage(pages, table) {
  const index = indexOf(pages), read = readerOf(table);
  const form = /** @type {HTMLFormElement} */ (document.getElementById("search-form"));
  const field = /** @type {HTMLInputElement} */ (form.elements.namedItem("q"));
  const status = /** @type {HTMLElement} */ (document.getElementById("search-status"));
  const results = /** @type {HTMLElement} */ (document.getElementById("search-results"));

  const show = () => {
    const found = answers(index, read(field.value), field.value);
    results.replaceChildren(...found.slice(0, AT_MOST).map(shown));
    const many = found.length > AT_MOST ? `The best ${AT_MOST} of ${found.length} pages` : `${found.length} pages`;
    status.textContent = !field.value.trim() ? "" : found.length === 1 ? "1 page" : found.length ? many :
      "No page says this. Try one word of it, or another word for it.";
  };

  field.addEventListener("input", show);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    show();
    /** @type {HTMLElement | null} */ (results.querySelector("a"))?.focus();
  });
  field.value = new URLSearchParams(location.search).get("q") ?? field.value;
  show();
  field.focus();
  field.select();
}
