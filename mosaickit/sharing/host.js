// @ts-check
/**
 * Runs the pages of widgets over what they last knew. There is no Python behind them: what they send goes nowhere and is
 * never answered, so a widget that watches for answers says by itself that it is not connected.
 */

/** @typedef {{ page: string, state: Record<string, any>, bytes: [string[], string][] }} Known */
/** @typedef {(...given: any[]) => void} Heard */

/** @returns {Promise<never>} */
const unanswered = () => Promise.reject(new Error("There is no Python behind this page."));

/** @param {string} text @returns {DataView} */
function bytesOf(text) {
  return new DataView(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer);
}

/** What a widget's page sees of it.
 * @param {Known} known */
function modelOf(known) {
  const state = known.state;
  for (const [path, text] of known.bytes) {
    /** @type {any} */ let holder = state;
    for (const name of path.slice(0, -1)) holder = holder[name];
    holder[path[path.length - 1]] = bytesOf(text);
  }
  /** @type {Map<string, Set<Heard>>} */
  const listening = new Map();
  /** @param {string} name @param {any[]} given */
  const tell = (name, ...given) => [...(listening.get(name) ?? [])].forEach((heard) => heard(...given));
  const model = {
    /** @param {string} name */
    get: (name) => state[name],
    /** @param {string | Record<string, any>} name @param {any} [value] */
    set(name, value) {
      const changes = typeof name === "string" ? { [name]: value } : name;
      const changed = Object.keys(changes).filter((key) => state[key] !== changes[key]);
      Object.assign(state, changes);
      for (const key of changed) tell(`change:${key}`, model, changes[key]);
      if (changed.length) tell("change", model);
    },
    save_changes() {},
    send: () => queueMicrotask(() => tell("comm_live_update")), // as a notebook says that Python has let go of a widget
    /** @param {string} names @param {Heard} heard */
    on(names, heard) {
      for (const name of names.split(/\s+/)) listening.set(name, (listening.get(name) ?? new Set()).add(heard));
    },
    /** @param {string | null} [names] @param {Heard | null} [heard] */
    off(names, heard) {
      for (const name of names ? names.split(/\s+/) : [...listening.keys()]) {
        if (heard) listening.get(name)?.delete(heard);
        else listening.delete(name);
      }
    },
    widget_manager: { get_model: unanswered },
  };
  return model;
}

/** @type {Record<string, Known>} */
const widgets = JSON.parse(/** @type {HTMLElement} */ (document.getElementById("widgets")).textContent ?? "{}");
/** @type {Map<string, Promise<any>>} */
const pages = new Map();
/** @type {Map<string, Promise<{ model: any, page: any }>>} */
const begun = new Map();

/** The module of a page; each text is loaded once.
 * @param {string} text */
function pageOf(text) {
  if (!pages.has(text)) pages.set(text, import(URL.createObjectURL(new Blob([text], { type: "text/javascript" }))));
  return /** @type {Promise<any>} */ (pages.get(text));
}

/** Begin a widget, once however often it is shown.
 * @param {string} name */
async function begin(name) {
  const known = widgets[name];
  const model = modelOf(known);
  const found = await pageOf(known.page);
  const page = typeof found.default === "function" ? await found.default() : (found.default ?? found);
  await page.initialize?.({ model, experimental: { invoke: unanswered } });
  return { model, page };
}

/** @param {HTMLElement} place */
async function show(place) {
  const name = place.dataset.widget ?? "";
  place.removeAttribute("data-widget");
  try {
    if (!begun.has(name)) begun.set(name, begin(name));
    const { model, page } = await /** @type {Promise<any>} */ (begun.get(name));
    const el = document.createElement("div");
    place.replaceChildren(el);
    const signal = new AbortController().signal;
    await page.render?.({ model, el, signal, experimental: { invoke: unanswered } });
  } catch (error) {
    const note = document.createElement("p");
    note.className = "note";
    note.textContent = `This widget could not be drawn without Python or the network: ${error}`;
    place.replaceChildren(note);
  }
}

/** Draw the widgets that can be seen; one in a slide that is hidden would have no width. */
function showSeen() {
  for (const place of document.querySelectorAll("[data-widget]")) {
    if (!place.closest("[hidden]")) show(/** @type {HTMLElement} */ (place));
  }
}

document.addEventListener("turned", showSeen);
showSeen();
