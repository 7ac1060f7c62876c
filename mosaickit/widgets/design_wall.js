// @ts-check
/**
 * A wall of designs to pick one from. What is there, and what becomes of what was pressed, comes from Python; the page
 * knows only where each one is, and which one the keys have reached.
 */

import { make } from "./elements.js";
import { Link } from "./link.js";
import { acrossOf, placeAfter } from "./wall_places.js";

/** @typedef {{ name: string, picture: string, title: string, lines: string[] }} DesignTile */

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  const again = make("button", { textContent: "List again" });
  const said = make("p", { role: "status" });
  const corners = make("p");
  const wall = make("div", { className: "mk-wall", "aria-label": "Designs" });
  const still = Boolean(model.get("offline")); // no one is there who could pick
  el.append(make("div", { className: "mk-design-wall" }, still ? [said, wall, corners] : [again, said, wall, corners]));

  const speak = () => {
    said.textContent = link.connected ? model.get("said") : "Not connected: run the cell again.";
  };
  /** @type {Link} */
  const link = new Link(model, { hears: speak, changes: speak });
  let reached = ""; // the file whose tile the keys have reached

  function tiles() {
    return /** @type {HTMLElement[]} */ ([...wall.children]);
  }

  /** @param {string} name */
  function reach(name) {
    reached = name;
    for (const tile of tiles()) tile.tabIndex = tile.dataset.name === reached ? 0 : -1;
  }

  /** @param {string} name */
  function pick(name) {
    reach(name);
    link.send({ kind: "pick", name });
  }

  function hang() {
    const inFocus = wall.contains(document.activeElement);
    /** @type {DesignTile[]} */
    const shown = model.get("tiles");
    // a list to choose from must have something in it
    if (shown.length) wall.setAttribute("role", still ? "list" : "listbox");
    else wall.removeAttribute("role");
    wall.replaceChildren(
      ...shown.map((tile) => {
        const below = tile.title === tile.name ? tile.lines : [tile.name, ...tile.lines];
        const label = [tile.title, tile.name, ...tile.lines].join(", ");
        const node = make("div", { className: "mk-tile", role: still ? "listitem" : "option", "aria-label": label, "data-name": tile.name });
        node.innerHTML = tile.picture; // squares, made by Python
        node.append(
          make("strong", { textContent: tile.title }),
          ...below.map((line) => make("span", { textContent: line })),
        );
        if (!still) node.addEventListener("click", () => pick(tile.name));
        return node;
      }),
    );
    if (still) return;
    const names = shown.map((tile) => tile.name);
    reach(names.includes(reached) ? reached : names.includes(model.get("picked")) ? model.get("picked") : names[0] ?? "");
    follow();
    if (inFocus) tiles().find((tile) => tile.dataset.name === reached)?.focus();
  }

  function tellOfCorners() {
    corners.textContent = model.get("corners");
  }

  function follow() {
    for (const tile of tiles()) tile.setAttribute("aria-selected", String(tile.dataset.name === model.get("picked")));
  }

  again.addEventListener("click", () => link.send({ kind: "again" }));
  wall.classList.toggle("mk-still-wall", still);
  wall.addEventListener("keydown", (event) => {
    if (still) return; // the keys scroll
    if (event.ctrlKey || event.metaKey || event.altKey || event.key === "Tab") return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    const all = tiles();
    const place = Math.max(all.findIndex((tile) => tile.dataset.name === reached), 0);
    const next = placeAfter(event.key, place, all.length, acrossOf(all));
    if (next !== place) {
      reach(all[next].dataset.name ?? "");
      all[next].focus();
      all[next].scrollIntoView({ block: "nearest" });
    } else if (event.key === "Enter" || event.key === " ") pick(reached);
    else return;
    event.preventDefault();
  });

  /** @type {[string, () => void][]} */
  const follows = [["tiles", hang], ["corners", tellOfCorners], ["picked", follow], ["said", speak]];
  for (const [trait, act] of follows) model.on(`change:${trait}`, act);
  hang();
  tellOfCorners();
  speak();
  return () => {
    link.end();
    for (const [trait, act] of follows) model.off(`change:${trait}`, act);
  };
}

export default { render };
