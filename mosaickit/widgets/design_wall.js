// @ts-check
/**
 * A wall of designs to pick one from. What is there, and what becomes of what was pressed, comes from Python; the page
 * knows only where each one is, and which one the keys have reached.
 */

import { Link } from "./link.js";
import { acrossOf, placeAfter } from "./wall_places.js";

/** @typedef {{ name: string, picture: string, title: string, lines: string[] }} DesignTile */

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  const frame = document.createElement("div");
  frame.className = "mk-design-wall";
  const again = document.createElement("button");
  again.textContent = "List again";
  const said = document.createElement("p");
  said.setAttribute("role", "status");
  const wall = document.createElement("div");
  wall.className = "mk-wall";
  wall.setAttribute("aria-label", "Designs");
  frame.append(again, said, wall);
  el.append(frame);

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
    if (shown.length) wall.setAttribute("role", "listbox");
    else wall.removeAttribute("role");
    wall.replaceChildren(
      ...shown.map((tile) => {
        const node = document.createElement("div");
        node.className = "mk-tile";
        node.setAttribute("role", "option");
        node.dataset.name = tile.name;
        node.innerHTML = tile.picture; // squares, made by Python
        const title = document.createElement("strong");
        title.textContent = tile.title;
        node.append(title);
        for (const line of tile.title === tile.name ? tile.lines : [tile.name, ...tile.lines]) {
          const words = document.createElement("span");
          words.textContent = line;
          node.append(words);
        }
        node.setAttribute("aria-label", [tile.title, tile.name, ...tile.lines].join(", "));
        node.addEventListener("click", () => pick(tile.name));
        return node;
      }),
    );
    const names = shown.map((tile) => tile.name);
    reach(names.includes(reached) ? reached : names.includes(model.get("picked")) ? model.get("picked") : names[0] ?? "");
    follow();
    if (inFocus) tiles().find((tile) => tile.dataset.name === reached)?.focus();
  }

  function follow() {
    for (const tile of tiles()) tile.setAttribute("aria-selected", String(tile.dataset.name === model.get("picked")));
  }

  again.addEventListener("click", () => link.send({ kind: "again" }));
  wall.addEventListener("keydown", (event) => {
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
  const follows = [["tiles", hang], ["picked", follow], ["said", speak]];
  for (const [trait, act] of follows) model.on(`change:${trait}`, act);
  hang();
  speak();
  return () => {
    link.end();
    for (const [trait, act] of follows) model.off(`change:${trait}`, act);
  };
}

export default { render };
