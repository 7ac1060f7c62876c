// @ts-check
/**
 * Yarn in space, turned by the hand. The lines come from Python; each piece of a line between two points is drawn as
 * a rectangle that faces the viewer and is shaded as a round tube. Nothing of the craft is known here.
 */

import { make } from "./elements.js";
import { prepared } from "./turnover_drawing.js";
import { obeyDrag, obeyTurns } from "./turnover_hand.js";
import { FRONT, extent, moved, piecesOf, sideSeen } from "./turnover_space.js";

/** @typedef {import("./turnover_space.js").Hold} Hold */

/** Both sides as pictures, for a page that cannot draw in space, and for paper.
 * @param {any} model */
function stillsOf(model) {
  return ["front", "back"].map((side) => make("img", { src: model.get("stills")[side], alt: `${model.get("about")} The ${side}.` }));
}

/** What draws the yarn of a widget as it is held.
 * @param {any} model @param {WebGL2RenderingContext} gl */
function drawnIn(model, gl) {
  const bytes = model.get("points");
  const points = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  return prepared(gl, piecesOf(points, model.get("lines")), model.get("colours"), model.get("yarn") / 2, extent(points));
}

/** A patch of yarn that lies in a frame and is turned. */
class Patch {
  /** @param {HTMLElement} frame @param {HTMLCanvasElement} canvas @param {(hold: Hold) => void} draw
   * @param {(seen: string) => void} tell is told which side is seen */
  constructor(frame, canvas, draw, tell) {
    this.frame = frame;
    this.canvas = canvas;
    this.draw = draw;
    this.tell = tell;
    /** @type {Hold} */
    this.held = FRONT;
    /** @type {Hold | null} */
    this.goal = null; // where it is turning to
    this.asked = 0;
    this.side = 0;
    this.coarse = 1; // how many pixels across one is drawn while it turns too slowly
    this.settling = 0;
    this.before = 0;
  }

  /** How it will lie: a hand that goes on while it is still turning means that, however slowly it turns. */
  get meant() {
    return this.goal ? { ...this.goal, zoom: this.held.zoom } : this.held;
  }

  /** @param {Hold} hold */
  hold(hold) {
    this.held = hold;
    this.goal = null;
    this.show();
  }

  /** @param {number} factor */
  zoom(factor) {
    this.held = moved(this.held, 0, 0, factor);
    this.show();
  }

  /** @param {Hold} wanted */
  turnTo(wanted) {
    if (window.matchMedia("(prefers-reduced-motion: reduce)").matches) this.held = { ...wanted, zoom: this.held.zoom };
    else this.goal = wanted;
    this.show();
  }

  fit() {
    this.side = Math.min(Math.max(this.frame.clientWidth, 200), 560);
    this.canvas.style.width = this.canvas.style.height = `${this.side}px`;
    this.size();
    this.show();
  }

  size() {
    const dots = Math.round((this.side * (window.devicePixelRatio || 1)) / this.coarse);
    if (this.canvas.width !== dots) this.canvas.width = this.canvas.height = dots;
  }

  /** Draw coarser if the last frame took too long, and finely again when nothing moves.
   * @param {number} now */
  pace(now) {
    const took = now - this.before;
    if (this.before && took > 34 && took < 2000 && this.coarse < 4) this.coarse++;
    this.before = now;
    this.size();
    clearTimeout(this.settling);
    if (this.coarse > 1) {
      this.settling = window.setTimeout(() => {
        this.coarse = 1;
        this.before = 0;
        this.size();
        this.draw(this.held);
      }, 250);
    }
  }

  /** Turn a step towards the goal, if there is one. */
  step() {
    if (!this.goal) return;
    const left = this.goal.turn - this.held.turn;
    if (Math.abs(left) <= 6) {
      [this.held, this.goal] = [this.meant, null];
      return;
    }
    this.held = { ...this.held, turn: this.held.turn + Math.sign(left) * 6, tilt: this.held.tilt * 0.8 };
    this.show();
  }

  show() {
    cancelAnimationFrame(this.asked);
    this.asked = requestAnimationFrame((now) => {
      this.pace(now);
      this.step();
      this.draw(this.held);
      this.canvas.dataset.turn = this.held.turn.toFixed(0);
      this.tell(sideSeen(this.held));
    });
  }

  end() {
    cancelAnimationFrame(this.asked);
    clearTimeout(this.settling);
  }
}

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  const frame = make("div", { className: "mk-turnover" });
  el.append(frame);
  const canvas = make("canvas", { tabIndex: 0, role: "img" });
  const gl = canvas.getContext("webgl2", { antialias: false });
  if (!gl) {
    frame.append(...stillsOf(model));
    return () => frame.remove();
  }
  const words = make("p", { className: "mk-said", role: "status" });
  const patch = new Patch(frame, canvas, drawnIn(model, gl), (seen) => {
    const said = seen === "edge on" ? "The fabric, edge on." : `The ${seen} of the fabric.`;
    if (words.textContent !== said) words.textContent = said;
    canvas.setAttribute("aria-label", `${model.get("about")} ${said} Arrow keys turn it.`);
  });
  const bar = make("div", { className: "mk-bar" }, obeyTurns(patch));
  obeyDrag(patch);
  frame.append(canvas, bar, words, make("div", { className: "mk-stills" }, stillsOf(model)));
  const watch = new ResizeObserver(() => patch.fit());
  watch.observe(frame);
  patch.fit();
  return () => {
    watch.disconnect();
    patch.end();
    gl.getExtension("WEBGL_lose_context")?.loseContext();
  };
}

export default { render };
