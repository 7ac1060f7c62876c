// @ts-check
/**
 * Yarn in space, turned by the hand. The lines come from Python; each piece of a line between two points is drawn as
 * a rectangle that faces the viewer and is shaded as a round tube. Nothing of the craft is known here.
 */

/** How the fabric is held: turned about its upright and its level axis, in degrees, and how large.
 * @typedef {{ turn: number, tilt: number, zoom: number }} Hold */

/** @type {Hold} */
export const FRONT = { turn: 0, tilt: 0, zoom: 1 };

/** The hold after a move; a turn stays within half a circle either way, a tilt within a quarter.
 * @param {Hold} hold @param {number} turn @param {number} tilt @param {number} [zoom]
 * @returns {Hold} */
export function moved(hold, turn, tilt, zoom = 1) {
  return {
    turn: ((((hold.turn + turn + 180) % 360) + 360) % 360) - 180,
    tilt: Math.min(Math.max(hold.tilt + tilt, -90), 90),
    zoom: Math.min(Math.max(hold.zoom * zoom, 0.5), 8),
  };
}

/** Which side faces the viewer, in words.
 * @param {Hold} hold */
export function sideSeen({ turn, tilt }) {
  const facing = Math.cos((turn * Math.PI) / 180) * Math.cos((tilt * Math.PI) / 180);
  if (Math.abs(facing) < 0.2) return "edge on";
  return facing > 0 ? "front" : "back";
}

/** The rotation of a hold as nine numbers, column by column.
 * @param {Hold} hold
 * @returns {number[]} */
export function rotation({ turn, tilt }) {
  const [a, b] = [(turn * Math.PI) / 180, (tilt * Math.PI) / 180];
  const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
  return [ca, sb * sa, -cb * sa, 0, cb, sb, sa, -sb * ca, cb * ca];
}

/** The pieces of all lines: both ends and the colour of each, seven numbers.
 * @param {Float32Array} points @param {[number, number][]} lines
 * @returns {Float32Array} */
export function piecesOf(points, lines) {
  const count = lines.reduce((sum, [length]) => sum + length - 1, 0);
  const pieces = new Float32Array(7 * count);
  let [at, piece] = [0, 0];
  for (const [length, colour] of lines) {
    for (let k = 0; k < length - 1; k++, piece++) {
      pieces.set(points.subarray(3 * (at + k), 3 * (at + k) + 6), 7 * piece);
      pieces[7 * piece + 6] = colour;
    }
    at += length;
  }
  return pieces;
}

/** Red, green and blue of "#rrggbb", from 0 to 1.
 * @param {string} colour */
export function channels(colour) {
  return [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16) / 255);
}

const VERTEX = `#version 300 es
in vec2 corner; in vec3 from; in vec3 to; in float ink;
uniform mat3 turned; uniform vec2 scale; uniform float radius, depth; uniform vec3 inks[16];
out vec2 at; out float reach; out vec3 colour; out vec2 aside;
void main() {
  vec3 a = turned * from, b = turned * to;
  vec2 along = b.xy - a.xy;
  float length = max(length(along), 1e-6);
  along /= length;
  vec2 across = vec2(-along.y, along.x);
  float u = mix(-0.6 * radius, length + 0.6 * radius, corner.x), v = corner.y * radius;
  vec2 place = a.xy + along * u + across * v;
  at = vec2(u, v); reach = length; colour = inks[int(ink + 0.5)]; aside = across;
  gl_Position = vec4(place * scale, -mix(a.z, b.z, clamp(u / length, 0.0, 1.0)) * depth, 1.0);
}`;

const FRAGMENT = `#version 300 es
precision highp float;
in vec2 at; in float reach; in vec3 colour; in vec2 aside;
uniform float radius;
out vec4 shown;
void main() {
  float beyond = at.x - clamp(at.x, 0.0, reach);
  float squared = (beyond * beyond + at.y * at.y) / (radius * radius);
  if (squared > 1.0) discard;
  float up = sqrt(1.0 - squared);
  vec2 flat_ = aside * at.y / radius;
  float light = 0.42 + 0.62 * max(dot(vec3(flat_, up), vec3(-0.339, 0.533, 0.775)), 0.0);
  shown = vec4(colour * light * smoothstep(0.0, 0.35, up + 0.12), 1.0);
}`;

/** @param {WebGL2RenderingContext} gl @param {number} kind @param {string} source */
function compiled(gl, kind, source) {
  const shader = /** @type {WebGLShader} */ (gl.createShader(kind));
  gl.shaderSource(shader, source);
  gl.compileShader(shader);
  if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(shader) ?? "");
  return shader;
}

/** Prepare the drawing of pieces; gives a function that draws them as held.
 * @param {WebGL2RenderingContext} gl @param {Float32Array} pieces @param {string[]} colours
 * @param {number} radius @param {[number, number, number]} size */
function prepared(gl, pieces, colours, radius, size) {
  const program = /** @type {WebGLProgram} */ (gl.createProgram());
  gl.attachShader(program, compiled(gl, gl.VERTEX_SHADER, VERTEX));
  gl.attachShader(program, compiled(gl, gl.FRAGMENT_SHADER, FRAGMENT));
  gl.linkProgram(program);
  gl.useProgram(program);
  // every piece three times over, once for each corner of a triangle that holds its rectangle: drawing one shape again
  // and again in new places would need less room, but is slow where there is no graphics card
  const count = pieces.length / 7;
  const corners = new Float32Array(27 * count);
  for (let piece = 0; piece < count; piece++) {
    for (let corner = 0; corner < 3; corner++) {
      const at = 9 * (3 * piece + corner);
      corners.set(pieces.subarray(7 * piece, 7 * piece + 7), at);
      corners[at + 7] = corner === 1 ? 2 : 0;
      corners[at + 8] = corner === 2 ? 3 : -1;
    }
  }
  gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ARRAY_BUFFER, corners, gl.STATIC_DRAW);
  /** @type {[string, number, number][]} */
  const parts = [["from", 3, 0], ["to", 3, 3], ["ink", 1, 6], ["corner", 2, 7]];
  for (const [part, size, offset] of parts) {
    const place = gl.getAttribLocation(program, part);
    gl.enableVertexAttribArray(place);
    gl.vertexAttribPointer(place, size, gl.FLOAT, false, 36, 4 * offset);
  }
  /** @param {string} name */
  const uniform = (name) => gl.getUniformLocation(program, name);
  gl.uniform1f(uniform("radius"), radius);
  gl.uniform1f(uniform("depth"), 1 / (Math.hypot(...size) + 4 * radius));
  gl.uniform3fv(uniform("inks"), new Float32Array(colours.slice(0, 16).flatMap(channels)));
  gl.enable(gl.DEPTH_TEST);
  const [turned, scale] = [uniform("turned"), uniform("scale")];
  const room = Math.max(size[0], size[1]) / 2 + 2 * radius;
  return (/** @type {Hold} */ hold) => {
    const { width, height } = gl.canvas;
    gl.viewport(0, 0, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    const fit = (Math.min(width, height) / room) * hold.zoom;
    gl.uniformMatrix3fv(turned, false, new Float32Array(rotation(hold)));
    gl.uniform2f(scale, fit / width, fit / height);
    gl.drawArrays(gl.TRIANGLES, 0, 3 * count);
  };
}

/** @param {Float32Array} points
 * @returns {[number, number, number]} */
export function extent(points) {
  /** @type {[number, number, number]} */
  const size = [0, 0, 0];
  for (let axis = 0; axis < 3; axis++) {
    let [low, high] = [Infinity, -Infinity];
    for (let at = axis; at < points.length; at += 3) {
      low = Math.min(low, points[at]);
      high = Math.max(high, points[at]);
    }
    size[axis] = high - low;
  }
  return size;
}

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  const frame = document.createElement("div");
  frame.className = "mk-turnover";
  el.append(frame);
  const bytes = model.get("points");
  const points = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  const canvas = document.createElement("canvas");
  const gl = canvas.getContext("webgl2", { antialias: false });
  const stills = ["front", "back"].map((side) => {
    const image = document.createElement("img");
    image.src = model.get("stills")[side];
    image.alt = `${model.get("about")} The ${side}.`;
    return image;
  });
  if (!gl) {
    frame.append(...stills);
    return () => frame.remove();
  }
  const printed = document.createElement("div");
  printed.className = "mk-stills";
  printed.append(...stills);
  const draw = prepared(gl, piecesOf(points, model.get("lines")), model.get("colours"), model.get("yarn") / 2, extent(points));
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "img");
  const bar = document.createElement("div");
  bar.className = "mk-bar";
  const words = document.createElement("p");
  words.className = "mk-said";
  words.setAttribute("role", "status");
  frame.append(canvas, bar, words, printed);

  let hold = FRONT;
  let asked = 0;
  /** @type {Hold | null} */
  let goal = null;

  let side = 0;
  let coarse = 1; // while it turns too slowly, each pixel is so many across
  let settling = 0;
  let before = 0;

  function fit() {
    side = Math.min(Math.max(frame.clientWidth, 200), 560);
    canvas.style.width = canvas.style.height = `${side}px`;
    size();
    show();
  }

  function size() {
    const dots = Math.round((side * (window.devicePixelRatio || 1)) / coarse);
    if (canvas.width !== dots) canvas.width = canvas.height = dots;
  }

  /** Draw coarser if the last frame took too long, and finely again when nothing moves.
   * @param {number} now */
  function pace(now) {
    const took = now - before;
    if (before && took > 34 && took < 2000 && coarse < 4) coarse++;
    before = now;
    size();
    clearTimeout(settling);
    if (coarse > 1) {
      settling = window.setTimeout(() => {
        coarse = 1;
        before = 0;
        size();
        draw(hold);
      }, 250);
    }
  }

  function show() {
    cancelAnimationFrame(asked);
    asked = requestAnimationFrame((now) => {
      pace(now);
      if (goal) {
        const left = goal.turn - hold.turn;
        hold = { ...hold, turn: hold.turn + Math.sign(left) * Math.min(Math.abs(left), 6), tilt: hold.tilt * 0.8 };
        if (Math.abs(left) <= 6) [hold, goal] = [{ ...goal, zoom: hold.zoom }, null];
        else show();
      }
      draw(hold);
      const seen = sideSeen(hold);
      const said = seen === "edge on" ? "The fabric, edge on." : `The ${seen} of the fabric.`;
      if (words.textContent !== said) words.textContent = said;
      canvas.setAttribute("aria-label", `${model.get("about")} ${said} Arrow keys turn it.`);
      canvas.dataset.turn = hold.turn.toFixed(0);
    });
  }

  /** @param {Hold} wanted */
  function turnTo(wanted) {
    if (window.matchMedia("(prefers-reduced-motion: reduce)").matches) hold = { ...wanted, zoom: hold.zoom };
    else goal = wanted;
    show();
  }

  // a hand that goes on while the fabric is still turning means the fabric as it will lie, however slowly it turns
  const meant = () => (goal ? { ...goal, zoom: hold.zoom } : hold);

  const turns = {
    Front: () => turnTo(FRONT),
    Back: () => turnTo({ ...FRONT, turn: 180 }),
    "Turn over": () => turnTo({ ...FRONT, turn: sideSeen(meant()) === "front" ? 180 : 0 }),
    Larger: () => ((hold = moved(hold, 0, 0, 1.25)), show()),
    Smaller: () => ((hold = moved(hold, 0, 0, 0.8)), show()),
  };
  for (const [name, press] of Object.entries(turns)) {
    const button = document.createElement("button");
    button.textContent = name;
    button.addEventListener("click", press);
    bar.append(button);
  }

  /** @type {Record<string, [number, number, number?]>} */
  const steps = {
    ArrowLeft: [-10, 0], ArrowRight: [10, 0], ArrowUp: [0, -10], ArrowDown: [0, 10], "+": [0, 0, 1.25], "-": [0, 0, 0.8],
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.key === "Tab") return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    const step = steps[event.key];
    if (step) {
      event.preventDefault();
      [hold, goal] = [moved(meant(), ...step), null];
      show();
    } else if (event.key === "Home") turns.Front();
    else if (event.key === "End") turns.Back();
    else if (event.key === " ") {
      event.preventDefault();
      turns["Turn over"]();
    }
  });
  /** @type {[number, number] | null} */
  let held = null;
  canvas.addEventListener("pointerdown", (event) => {
    held = [event.clientX, event.clientY];
    canvas.setPointerCapture(event.pointerId);
    canvas.focus();
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held) return;
    goal = null;
    hold = moved(hold, (event.clientX - held[0]) * 0.5, (event.clientY - held[1]) * 0.5);
    held = [event.clientX, event.clientY];
    show();
  });
  for (const over of ["pointerup", "pointercancel"]) canvas.addEventListener(over, () => (held = null));

  const watch = new ResizeObserver(fit);
  watch.observe(frame);
  fit();
  return () => {
    watch.disconnect();
    cancelAnimationFrame(asked);
    clearTimeout(settling);
    gl.getExtension("WEBGL_lose_context")?.loseContext();
  };
}

export default { render };
