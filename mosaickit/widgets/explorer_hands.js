// @ts-check
/**
 * What becomes of what the hand does on a wall: Python is told, or, on a page that has none, what it laid out before is
 * shown. Nothing of a variant is worked out here.
 */

import { Link } from "./link.js";

/**
 * @typedef {{ key: number, picture: string, name: string, about: string }} Tile
 * @typedef {{ faces: string, repeat: string, about: string }} Preview
 * @typedef {{
 *   said: string, can: (what: string) => boolean, press: (what: string) => void, sort: (by: string) => void,
 *   pick: (key: number) => void, end: () => void,
 * }} ExplorerHand
 * `said`: what is to be said now; `can`: whether there is anyone to do what a button says.
 */

/** A hand whose every press Python answers.
 * @implements {ExplorerHand} */
export class HandWithPython {
  /** @param {any} model @param {() => void} speak */
  constructor(model, speak) {
    this.model = model;
    this.link = new Link(model, { hears: speak, changes: speak });
  }

  get said() {
    return this.link.connected ? this.model.get("said") : "Not connected: run the cell again.";
  }

  can() {
    return true;
  }

  /** @param {string} what */
  press(what) {
    this.link.send({ kind: what });
  }

  /** @param {string} by */
  sort(by) {
    this.link.send({ kind: "sort", by });
  }

  /** @param {number} key */
  pick(key) {
    this.model.set("picked", key);
    this.model.save_changes();
  }

  end() {
    this.link.end();
  }
}

/** A hand on a page without Python: it picks, pins and sorts among what was laid out.
 * @implements {ExplorerHand} */
export class HandAlone {
  /** @param {any} model */
  constructor(model) {
    this.model = model;
    /** @type {{ previews: Preview[], orders: Record<string, number[]>, pinned: string, unpinned: string }} */
    this.laid = model.get("offline");
  }

  get said() {
    return this.model.get("said");
  }

  /** @param {string} what */
  can(what) {
    return what === "pin";
  }

  /** Pin what is picked, or take its pin out; of three pins the oldest falls.
   * @param {string} what */
  press(what) {
    if (!this.can(what)) return;
    /** @type {number[]} */
    const before = this.model.get("pinned");
    const picked = this.model.get("picked");
    const others = before.filter((key) => key !== picked);
    const pinned = (others.length === before.length ? [...others, picked] : others).slice(-2);
    /** @type {Tile[]} */
    const tiles = this.model.get("tiles");
    const names = pinned.map((key) => tiles.find((tile) => tile.key === key)?.name).join(" and ");
    this.model.set({ pinned, said: names ? this.laid.pinned.replace("…", () => names) : this.laid.unpinned });
  }

  /** @param {string} by */
  sort(by) {
    /** @type {Map<number, Tile>} */
    const tiles = new Map(this.model.get("tiles").map((/** @type {Tile} */ tile) => [tile.key, tile]));
    this.model.set("tiles", this.laid.orders[by].map((key) => tiles.get(key)));
  }

  /** @param {number} key */
  pick(key) {
    this.model.set({ picked: key, preview: this.laid.previews[key] });
  }

  end() {}
}
