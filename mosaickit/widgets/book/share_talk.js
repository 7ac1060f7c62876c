// @ts-check
/** What the page of Share asks Python for, and what it keeps of the answers. */

/** @typedef {import("./state.js").BookState} BookState */

/** What was chosen beside the buttons; the first of each is usual.
 * @param {BookState} book @returns {Record<string, any>} */
export function optionsOf(book) {
  const { forms, papers, marks, letters } = book.panel;
  const usual = { form: forms[0][0], paper: papers[0][0], system_fonts: false, whole: true, in_full: false, marks: marks[0][0], letters };
  return { ...usual, ...book.local.get("share-options") };
}

/** @param {BookState} book @param {string} name @param {unknown} value */
export function setOption(book, name, value) {
  book.local.set("share-options", { ...book.local.get("share-options"), [name]: value });
  book.draw();
}

/** Ask for something; an answer that is an error stands beside the button, not at the foot of the page.
 * @param {BookState} book @param {string} name @param {Record<string, any>} [values] @returns {Promise<any>} */
export function askShare(book, name, values = {}) {
  return book.send({ kind: "do", panel: "share", name, values });
}

/** Save a file, or go on with one that was asked about.
 * @param {BookState} book @param {string} what @param {"free" | "replace"} [answer] */
export async function saveFile(book, what, answer) {
  forget(book, what);
  book.local.set(`share:${what}`, { working: true });
  const { saved, taken, error, working } = await askShare(book, "save", { what, answer, options: optionsOf(book) });
  book.local.set(`share:${what}`, working ? { working } : { saved, taken, error });
  book.draw();
}

/** Whether a file is being made.
 * @param {BookState} book @param {string} what @returns {boolean} */
export function isMade(book, what) {
  return book.panel.work?.what === what || !!book.local.get(`share:${what}`)?.working;
}

/** Take in what came of something that took long.
 * @param {BookState} book @param {{ what?: string, outcome?: any, error?: string }} answer */
export function takeIn(book, { what, outcome, error }) {
  if (what === PREVIEW) keepSheet(book, outcome);
  else if (what === EDIT) book.local.set("share-edit", outcome.stopped ? {} : outcome);
  else if (what) book.local.set(`share:${what}`, outcome.stopped ? {} : outcome);
  if (error) book.local.set("error", error);
}

/** What the sheets of the PDF are called among what is made. */
export const PREVIEW = "preview";

/** What the marks of an editor are called among what is made. */
export const EDIT = "edit";

/** Show a sheet, or say why it cannot be.
 * @param {BookState} book @param {any} answer */
export function keepSheet(book, answer) {
  const { options } = book.local.get("share-sheet") ?? {};
  const kept = answer.stopped ? {} : answer.error ? { error: answer.error } : { ...answer, options };
  book.local.set("share-sheet", kept);
}

/** Bring a saved file to this device; the link stays, for a browser that does not follow it of itself.
 * @param {BookState} book @param {string} what */
export async function fetchFile(book, what) {
  const { saved } = book.local.get(`share:${what}`);
  book.local.set(`share:${what}`, { saved, fetching: true });
  const { name, kind, data, error } = await askShare(book, "fetch", { what });
  if (error) {
    book.local.set(`share:${what}`, { saved, error });
  } else {
    const url = URL.createObjectURL(new Blob([bytesOfBase64(data)], { type: kind }));
    book.local.set(`share:${what}`, { saved, fetched: { url, name } });
    const link = document.createElement("a");
    Object.assign(link, { href: url, download: name });
    link.click();
  }
  book.draw();
}

/** Let go of the bytes that were fetched of a file.
 * @param {BookState} book @param {string} what */
function forget(book, what) {
  const { fetched } = book.local.get(`share:${what}`) ?? {};
  if (fetched) URL.revokeObjectURL(fetched.url);
}

/** @param {string} data bytes in base 64 */
function bytesOfBase64(data) {
  return Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
}
