// What the page keeps on this device, and its settings. It stands at the start of the page's one script.
const find = (id) => document.getElementById(id);
const root = document.documentElement;
const pattern = root.dataset.pattern;

// a browser may refuse to keep anything for a file: then the page forgets, and works
const recall = () => {
  try {
    return JSON.parse(localStorage.getItem(`mosaickit-pattern-${pattern}`)) || {};
  } catch {
    return {};
  }
};
const keep = (what) => {
  try {
    localStorage.setItem(`mosaickit-pattern-${pattern}`, JSON.stringify({ ...recall(), ...what }));
  } catch {
    // nothing is kept
  }
};

// terms and look are attributes of the page, which its style reads
for (const name of ["terms", "look"]) {
  for (const choice of document.querySelectorAll(`input[name="${name}"]`)) {
    if (choice.value === recall()[name]) {
      choice.checked = true;
      root.dataset[name] = choice.value;
    }
    choice.addEventListener("change", () => {
      root.dataset[name] = choice.value;
      keep({ [name]: choice.value });
    });
  }
}

const toEdge = (scroller) => {
  scroller.scrollLeft = scroller.dataset.edge === "right" ? scroller.scrollWidth : 0;
};
for (const id of ["guide", "settings", "to-guide"]) {
  find(id).hidden = false;
}
// a chart shows where rows start, and says so if it goes on; one that is opened later, then
const showStart = () => {
  for (const sheet of document.querySelectorAll(".sheet[data-edge]")) {
    toEdge(sheet);
    sheet.previousElementSibling.hidden = sheet.scrollWidth <= sheet.clientWidth;
  }
};
for (const more of document.querySelectorAll("#chart details")) {
  more.addEventListener("toggle", showStart);
}
window.addEventListener("resize", showStart);
showStart();
