// Search and filters. Without this script the page is a plain list of all motifs.
"use strict";
(() => {
  const find = (id) => document.getElementById(id);
  const form = find("filters"), search = find("search");
  const filters = [...form.querySelectorAll("select")];
  const cards = [...find("cards").children];
  const plain = (text) => text.toLowerCase().normalize("NFKD");
  const texts = cards.map((card) => plain(card.textContent));

  const show = () => {
    const words = plain(search.value).split(/\s+/).filter(Boolean);
    let count = 0;
    cards.forEach((card, at) => {
      const fits =
        words.every((word) => texts[at].includes(word)) &&
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
})();
