// Search and filters. Without this script the page is a plain list of all motifs. WORDS comes before it.
import { readerOf, stemsOf, wordsOf } from "../docs/search/words.js";

const find = (id) => document.getElementById(id);
const form = find("filters"), search = find("search");
const filters = [...form.querySelectorAll("select")];
const cards = [...find("cards").children];
const read = readerOf(WORDS);

// its name, what it shows, its yarns and what the filters ask: no words that every card has
const texts = cards.map((card) => {
  const told = [...card.querySelectorAll(".told")].map(({ textContent }) => textContent);
  const text = [...told, ...Object.values(card.dataset)].join(" ");
  return [...wordsOf(text), ...stemsOf(text)];
});

/** Whether a card says a word as typed, by its beginning, or another word for it as a whole. */
const says = (words, { typed, ways }) =>
  typed.split(" ").every((begins) => words.some((word) => word.startsWith(begins))) ||
  ways.some(({ stems }) => stems.every((stem) => words.includes(stem)));

const show = () => {
  const wants = read(search.value);
  let count = 0;
  cards.forEach((card, at) => {
    const fits =
      wants.every((want) => says(texts[at], want)) &&
      filters.every(({ id, value }) => !value || card.dataset[id].split("|").includes(value));
    card.hidden = !fits;
    count += Number(fits);
  });
  find("count").textContent = `${count} of ${cards.length} motifs`;
  find("nothing").hidden = count > 0;
};

form.addEventListener("input", show);
form.addEventListener("submit", (event) => event.preventDefault());
// the fields are emptied after this event
form.addEventListener("reset", () => setTimeout(show));
form.hidden = false;
show();
