// @ts-check
/** Elements of a page, made in one expression. */

/** An element with properties, or attributes where it has no such property, and with what is inside it.
 * @template {keyof HTMLElementTagNameMap} Kind @param {Kind} kind @param {Record<string, any>} [set]
 * @param {(Node | string)[]} [inside] @returns {HTMLElementTagNameMap[Kind]} */
export function make(kind, set = {}, inside = []) {
  const element = document.createElement(kind);
  for (const [name, value] of Object.entries(set)) {
    if (name in element && name !== "list") /** @type {any} */ (element)[name] = value;
    else element.setAttribute(name, value);
  }
  element.append(...inside);
  return element;
}
