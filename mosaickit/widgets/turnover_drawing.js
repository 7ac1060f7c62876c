// @ts-check
/** Pieces of yarn drawn as round tubes, each by a triangle that is shaded as one. */

import { channels, rotation } from "./turnover_space.js";

/** @typedef {import("./turnover_space.js").Hold} Hold */

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
export function prepared(gl, pieces, colours, radius, size) {
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
