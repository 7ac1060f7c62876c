// @ts-check
/**
 * A wall of pictures to move about on. Which pictures there are, and what becomes of what was pressed, comes from
 * Python; the page knows only where each one hangs.
 */

import { make } from "./elements.js";
import { Link } from "./link.js";
import { acrossOf, placeAfter } from "./wall_places.js";

/** @typedef {{ key: number, picture: string, name: string, about: string }} Tile */

const KEYS = { p: "pin", b: "breed", s: "paint", r: "chance" };

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  const bar = make("div", { className: "mk-bar" });
  const said = make("p", { role: "status" });
  const wall = make("div", { className: "mk-wall", role: "listbox", "aria-label": "Variants" });
  const side = make("div", { className: "mk-preview" });
  const body = make("div", { className: "mk-body" }, [wall, side]);
  el.append(make("div", { className: "mk-explorer" }, [bar, said, body]));

  const speak = () => {
    said.textContent = link.connected ? model.get("said") : "Not connected: run the cell again.";
  };
  /** @type {Link} */
  const link = new Link(model, { hears: speak, changes: speak });

  /** @type {[string, string][]} */
  const presses = [["Pin (P)", "pin"], ["Breed the two pinned (B)", "breed"], ["One at random (R)", "chance"], ["Send to the painter (S)", "paint"]];
  for (const [name, what] of presses) {
    const button = document.createElement("button");
    button.textContent = name;
    button.addEventListener("click", () => link.send({ kind: what }));
    bar.append(button);
  }
  const label = document.createElement("label");
  label.textContent = "Sorted by ";
  const sort = document.createElement("select");
  for (const name of model.get("sorts")) sort.append(new Option(name, name));
  sort.addEventListener("change", () => link.send({ kind: "sort", by: sort.value }));
  label.append(sort);
  bar.append(label);

  /** @param {number} key */
  function pick(key) {
    model.set("picked", key);
    model.save_changes();
    follow();
  }

  function hang() {
    const inFocus = wall.contains(document.activeElement);
    wall.replaceChildren(
      ...model.get("tiles").map((/** @type {Tile} */ tile) => {
        const node = document.createElement("div");
        node.className = "mk-tile";
        node.setAttribute("role", "option");
        node.dataset.key = String(tile.key);
        node.title = tile.about;
        node.innerHTML = tile.picture; // squares, made by Python
        const name = document.createElement("span");
        name.textContent = `${tile.key + 1}. ${tile.name}`;
        node.append(name);
        node.setAttribute("aria-label", `${tile.key + 1}. ${tile.name}: ${tile.about}`);
        node.addEventListener("click", () => pick(tile.key));
        return node;
      }),
    );
    follow();
    if (inFocus) focusPicked();
  }

  function tiles() {
    return /** @type {HTMLElement[]} */ ([...wall.children]);
  }

  function focusPicked() {
    const node = tiles().find((tile) => tile.dataset.key === String(model.get("picked")));
    node?.focus();
    node?.scrollIntoView({ block: "nearest" });
  }

  function follow() {
    const pinned = model.get("pinned").map(String);
    const picked = String(model.get("picked"));
    for (const tile of tiles()) {
      const here = tile.dataset.key === picked;
      tile.setAttribute("aria-selected", String(here));
      tile.tabIndex = here ? 0 : -1;
      tile.classList.toggle("mk-pinned", pinned.includes(tile.dataset.key ?? ""));
    }
    const preview = model.get("preview");
    side.innerHTML = `<div class="mk-faces">${preview.faces}</div><div class="mk-repeat">${preview.repeat}</div>`; // pictures, made by Python
    const words = document.createElement("p");
    words.textContent = preview.about;
    side.append(words);
  }

  wall.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.key === "Tab") return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    const all = tiles();
    const place = all.findIndex((tile) => tile.dataset.key === String(model.get("picked")));
    const next = placeAfter(event.key, Math.max(place, 0), all.length, acrossOf(all));
    const what = /** @type {Record<string, string>} */ (KEYS)[event.key.toLowerCase()];
    if (next !== place) {
      event.preventDefault();
      pick(Number(all[next].dataset.key));
      focusPicked();
    } else if (what) link.send({ kind: what });
  });

  /** @type {[string, () => void][]} */
  const follows = [["tiles", hang], ["picked", follow], ["pinned", follow], ["preview", follow], ["said", speak]];
  for (const [trait, act] of follows) model.on(`change:${trait}`, act);
  hang();
  speak();
  return () => {
    link.end();
    for (const [trait, act] of follows) model.off(`change:${trait}`, act);
  };
}

export default { render };
