// @ts-check
/**
 * The row guide: it moves through the steps of a chart, shows what was laid out for each, and keeps the place.
 *
 * Nothing of the craft is known here: texts, drawings, their order, the loops on the hook and what every row paints all
 * come as data. `guide(el, data, store)` needs nothing but that data and a store for the place, so it runs without
 * Python too. A place counts what is done: rows, stitches of the row in hand, moves of the stitch in hand.
 */

/**
 * @typedef {{ rows: number, stitches: number, moves: number }} Place
 * @typedef {"move" | "stitch" | "group" | "row"} Pace
 * @typedef {{ pace: Pace, style: number, large: boolean, seconds: number }} Manner
 * @typedef {{ text: string, loops: number, enters: [number, string] | null, over: string }} Move
 * @typedef {{ name: string, words: string, moves: Move[], shows: number[], note: string }} Kind
 * @typedef {{ first: number, end: number, run: number, times: string, said: string }} Group
 * @typedef {{ pieces: number[], groups: number[] }} Line
 * @typedef {{ role: string, yarn: string, inks: number[], line: number, order: number, height: string }} Work
 * @typedef {{ ink: number, runs: [number, number, number][] }} Paint
 * @typedef {{ name: string, columns: number[], paint: Paint[] }} Face
 * @typedef {{
 *   title: string, row: string, rows: number, stitches: number, style: number, styles: string[], about: string[][],
 *   inks: string[], view_box: string, columns: string[], kinds: Kind[], ways: [number, number][], orders: number[][],
 *   pieces: string[][], times: string[], said: string[], lines: Line[], work: Work[], faces: Face[], aspect: number,
 * }} Data
 * @typedef {{ load: () => any, save: (place: Place) => void, manner?: () => any, keepManner?: (manner: Manner) => void }} Store
 */

/** The styles of the rows in the order in which the data holds them; rows are read aloud in words. */
const IN_WORDS = 1;

/** The place as it is if it lies in the chart, else the start.
 * @param {any} place @param {Data} data @returns {Place} */
export function placed(place, data) {
  const start = { rows: 0, stitches: 0, moves: 0 };
  if (!place) return start;
  const { rows, stitches, moves } = place;
  if (![rows, stitches, moves].every((number) => Number.isInteger(number) && number >= 0)) return start;
  if (rows === data.rows && stitches === 0 && moves === 0) return { rows, stitches, moves };
  if (rows >= data.rows || stitches >= data.stitches) return start;
  return moves < kindAt(place, data).moves.length ? { rows, stitches, moves } : { rows, stitches, moves: 0 };
}

/** What is made at a place, and on which column, as numbers.
 * @param {Place} place @param {Data} data */
function wayAt(place, data) {
  return data.ways[data.orders[data.work[place.rows].order][place.stitches]];
}

/** How the stitch in hand is made.
 * @param {Place} place @param {Data} data */
export function kindAt(place, data) {
  return data.kinds[wayAt(place, data)[0]];
}

/** The run of the row's words that the stitch in hand is in.
 * @param {Place} place @param {Data} data @returns {Group} */
export function groupAt(place, data) {
  const { groups } = data.lines[data.work[place.rows].line];
  let at = 0; // four numbers a group
  while (groups[at] <= place.stitches) at += 4;
  const [end, run, times, said] = groups.slice(at, at + 4);
  return { first: at > 0 ? groups[at - 4] : 0, end, run, times: data.times[times], said: data.said[said] };
}

/** A row's words in pieces; every second one, the first time at place 1, is a run.
 * @param {Line} line @param {number} style @param {Data} data */
export function wordsOf(line, style, data) {
  return line.pieces.map((piece) => data.pieces[piece][style]);
}

/** What was told of the manner of a guide, where it is one, else as a guide starts.
 * @param {any} told @param {Data} data @returns {Manner} */
export function mannered(told, data) {
  const { pace, style, large, seconds } = told ?? {};
  return {
    pace: PACES.some(([name]) => name === pace) ? pace : "stitch",
    style: Number.isInteger(style) && style in data.styles ? style : data.style,
    large: large === true,
    seconds: secondsFrom(seconds),
  };
}

/** Seconds between steps, brought in where they are none.
 * @param {any} told */
function secondsFrom(told) {
  return Math.min(Math.max(Number(told) || 5, 0.5), 600);
}

/** @param {Place} place @param {Data} data */
export function isDone(place, data) {
  return place.rows === data.rows;
}

/** @param {number} rows @param {number} stitches @param {Data} data @returns {Place} */
function stitchesDone(rows, stitches, data) {
  return stitches < data.stitches ? { rows, stitches, moves: 0 } : { rows: rows + 1, stitches: 0, moves: 0 };
}

/** The place one step on.
 * @param {Place} place @param {Pace} pace @param {Data} data @returns {Place} */
export function ahead(place, pace, data) {
  if (isDone(place, data)) return place;
  if (pace === "row") return { rows: place.rows + 1, stitches: 0, moves: 0 };
  if (pace === "group") return stitchesDone(place.rows, groupAt(place, data).end, data);
  if (pace === "move" && place.moves + 1 < kindAt(place, data).moves.length) return { ...place, moves: place.moves + 1 };
  return stitchesDone(place.rows, place.stitches + 1, data);
}

/** The place one step back.
 * @param {Place} place @param {Pace} pace @param {Data} data @returns {Place} */
export function back(place, pace, data) {
  if (pace === "move" && place.moves > 0) return { ...place, moves: place.moves - 1 };
  if (pace === "stitch" && place.moves > 0) return { ...place, moves: 0 };
  const inRow = place.stitches > 0 || place.moves > 0;
  if (pace === "row") return { rows: inRow ? place.rows : Math.max(place.rows - 1, 0), stitches: 0, moves: 0 };
  if (pace === "group" && inRow) {
    const { first } = groupAt(place, data);
    if (first < place.stitches || place.moves > 0) return { ...place, stitches: first, moves: 0 };
  }
  if (place.stitches === 0 && place.rows === 0) return { rows: 0, stitches: 0, moves: 0 };
  const before =
    place.stitches > 0
      ? { rows: place.rows, stitches: place.stitches - 1, moves: 0 }
      : { rows: place.rows - 1, stitches: data.stitches - 1, moves: 0 };
  if (pace === "group") return { ...before, stitches: groupAt(before, data).first };
  return pace === "move" ? { ...before, moves: kindAt(before, data).moves.length - 1 } : before;
}

/** What is painted on a face, as [ink, from the top, from the left, how many]; of the row in hand what is done.
 * @param {Face} face @param {Place} place @returns {[number, number, number, number][]} */
export function painted(face, place) {
  /** @type {[number, number, number, number][]} */
  const found = [];
  face.paint.slice(0, place.rows).forEach(({ ink, runs }) => {
    for (const [top, left, length] of runs) found.push([ink, top, left, length]);
  });
  const now = face.paint[place.rows];
  if (now && place.stitches > 0) {
    const done = face.columns.slice(0, place.stitches);
    const [from, to] = [Math.min(...done), Math.max(...done) + 1];
    for (const [top, left, length] of now.runs) {
      const [start, end] = [Math.max(left, from), Math.min(left + length, to)];
      if (start < end) found.push([now.ink, top, start, end - start]);
    }
  }
  return found;
}

/** What is said at a place, for ears.
 * @param {Place} place @param {Pace} pace @param {Data} data */
export function saidAt(place, pace, data) {
  if (isDone(place, data)) return "All rows are done.";
  const work = data.work[place.rows];
  const row = `${data.row} ${place.rows + 1}`;
  if (pace === "row") {
    return `${row}, ${work.yarn || work.role}: ${wordsOf(data.lines[work.line], IN_WORDS, data).join("")}.`;
  }
  const starts = place.stitches === 0 && place.moves === 0 ? `${row}, ${work.yarn || work.role}. ` : "";
  if (pace === "group") return `${starts}${groupAt(place, data).said}.`;
  const kind = kindAt(place, data);
  if (pace === "stitch") return `${starts}Stitch ${place.stitches + 1}: ${kind.words}.`;
  const stitch = place.moves === 0 ? `Stitch ${place.stitches + 1}, ${kind.words}. ` : "";
  const move = kind.moves[place.moves];
  return `${starts}${stitch}${move.text} ${onTheHook(move.loops)}.`;
}

/** @param {number} loops */
export function onTheHook(loops) {
  return `${loops} ${loops === 1 ? "loop" : "loops"} on the hook`;
}

/** A store in the browser, for a guide without Python. Where the browser refuses, all is kept only while the page is
 * open, and `kept` says so.
 * @param {string} key */
export function inTheBrowser(key) {
  /** @type {Map<string, string>} */
  const refused = new Map(); // what the browser did not take

  /** @param {string} name @param {any} value */
  function write(name, value) {
    const text = JSON.stringify(value);
    try {
      localStorage.setItem(name, text);
      refused.delete(name);
    } catch {
      refused.set(name, text);
    }
  }

  /** @param {string} name */
  function read(name) {
    try {
      return JSON.parse(refused.get(name) ?? localStorage.getItem(name) ?? "null");
    } catch {
      return null;
    }
  }

  const ways = `${key}-manner`;
  write(key, read(key)); // a browser that takes nothing is known before the first step
  return {
    load: () => read(key),
    /** @param {Place} place */
    save: (place) => write(key, place),
    manner: () => read(ways),
    /** @param {Manner} manner */
    keepManner: (manner) => write(ways, manner),
    kept: () => !refused.has(key),
  };
}

const PACES = /** @type {const} */ ([
  ["stitch", "stitch by stitch"],
  ["move", "move by move"],
  ["group", "group by group"],
  ["row", "row by row"],
]);
const KEYS = [
  ["Space or →", "next step"],
  ["←", "one step back"],
  ["↑ and ↓", "next row, row before"],
  ["Home and End", "first and last stitch of the row"],
  ["Page up and down", "ten rows on, ten rows back"],
];
const WIDEST = 300; // pixels of a face
const SILENCE_MS = 2000;

/** @param {string} kind @param {Record<string, any>} [set] @param {(Node | string)[]} [inside] @returns {any} */
function make(kind, set = {}, inside = []) {
  const element = document.createElement(kind);
  for (const [name, value] of Object.entries(set)) {
    if (name in element && name !== "list") /** @type {any} */ (element)[name] = value;
    else element.setAttribute(name, value);
  }
  element.append(...inside);
  return element;
}

/** Put a guide into an element.
 * @param {HTMLElement} el @param {Data} data @param {Store} store
 * @returns {{ goTo: (place: any) => void, tell: (note: string, trouble: string) => void, stop: () => void }} */
export function guide(el, data, store) {
  let place = placed(store.load(), data);
  const manner = mannered(store.manner?.(), data);
  /** @type {number | null} */ let timer = null;
  let aloud = false;

  // ---- the page -----------------------------------------------------------------------------------------

  /** @param {string} text @param {() => void} press @param {Record<string, any>} [set] */
  const button = (text, press, set = {}) => {
    const made = make("button", { type: "button", ...set }, [text]);
    made.addEventListener("click", press);
    return made;
  };
  const banner = make("div", { className: "mk-banner", role: "alert", hidden: true });
  const note = make("div", { className: "mk-note", role: "status" });
  const live = make("div", { className: "mk-live", role: "status" });
  const head = make("p", { className: "mk-head" });
  const count = make("div", { className: "mk-count" });
  const rowBar = make("progress", { max: data.stitches, "aria-label": `Stitches of the ${data.row.toLowerCase()}` });
  const allBar = make("progress", { max: data.rows * data.stitches, "aria-label": "All stitches" });
  const words = make("p", { className: "mk-words" });
  const times = make("p", { className: "mk-times" });
  const stitch = make("p", { className: "mk-stitch" });
  const moves = make("ol", { className: "mk-moves" });
  const aside = make("p", { className: "mk-aside" });
  const pictures = make("div", { className: "mk-pictures" });
  const backButton = button("Back", () => step(back), { className: "mk-big" });
  const nextButton = button("Next", () => step(ahead), { className: "mk-big mk-next" });

  const paceBox = make("select", {}, PACES.map(([name, text]) => make("option", { value: name }, [text])));
  paceBox.value = manner.pace;
  paceBox.addEventListener("change", () => {
    manner.pace = paceBox.value;
    keepManner();
    show();
    say();
  });
  const styleBox = make("select", {}, data.styles.map((text, style) => make("option", { value: String(style) }, [text])));
  styleBox.value = String(manner.style);
  styleBox.addEventListener("change", () => {
    manner.style = Number(styleBox.value);
    keepManner();
    show();
  });
  const jumpBox = make("input", { type: "number", min: "1", max: String(data.rows), value: "1" });
  const jump = () => {
    const row = Number(jumpBox.value);
    if (Number.isInteger(row) && row >= 1 && row <= data.rows) go({ rows: row - 1, stitches: 0, moves: 0 });
    else live.textContent = `Expected a ${data.row.toLowerCase()} from 1 to ${data.rows}.`;
  };
  jumpBox.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => event.key === "Enter" && jump());
  const secondsBox = make("input", {
    type: "number", min: "0.5", max: "600", step: "0.5", value: String(manner.seconds),
  });
  secondsBox.addEventListener("change", () => {
    manner.seconds = secondsFrom(secondsBox.value);
    secondsBox.value = String(manner.seconds);
    keepManner();
    if (timer !== null) start();
  });
  const timerButton = button("Start timer", () => (timer === null ? start() : pause()), { "aria-pressed": "false" });
  const largeButton = button("Large type", () => {
    manner.large = !manner.large;
    keepManner();
    enlarge();
  });
  const speechButton = button("Read aloud", () => speak(!aloud), { "aria-pressed": "false" });

  const faces = data.faces.map((face) => {
    const canvas = make("canvas", { role: "img" });
    return { face, canvas, figure: make("figure", {}, [canvas, make("figcaption", {}, [face.name])]) };
  });
  const about = make("ul");
  const more = make("details", {}, [
    make("summary", {}, [`How ${data.row.toLowerCase()}s start and end, and keys`]),
    about,
    make("table", {}, [
      make("caption", {}, ["Keys, while the guide has the focus"]),
      make("tbody", {}, KEYS.map(([key, does]) =>
        make("tr", {}, [make("th", { scope: "row" }, [key]), make("td", {}, [does])]))),
    ]),
  ]);
  const desk = make("div", { className: "mk-desk", tabIndex: 0, role: "group", "aria-label": `Guide: ${data.title}` }, [
    make("div", { className: "mk-top" }, [head, count, rowBar, allBar]),
    words, times,
    make("div", { className: "mk-now" }, [make("div", { className: "mk-how" }, [stitch, moves, aside]), pictures]),
  ]);
  const settings = make("div", { className: "mk-settings", role: "group", "aria-label": "Settings of the guide" }, [
    make("label", {}, ["Step ", paceBox]),
    make("label", {}, ["Words ", styleBox]),
    make("span", { className: "mk-pair" }, [make("label", {}, [`${data.row} `, jumpBox]), button("Go", jump)]),
    make("span", { className: "mk-pair" }, [make("label", {}, ["Seconds ", secondsBox]), timerButton]),
    largeButton, speechButton,
  ]);
  const page = make("div", { className: "mk-guide" }, [
    banner, make("div", { className: "mk-buttons" }, [backButton, nextButton]), desk, live, settings,
    make("div", { className: "mk-faces" }, faces.map((each) => each.figure)), note, more,
  ]);
  el.append(page);

  // ---- moving ---------------------------------------------------------------------------------------------

  /** @param {(place: Place, pace: Pace, data: Data) => Place} way */
  function step(way) {
    go(way(place, manner.pace, data));
  }

  /** @param {Place} to */
  function go(to) {
    if (to.rows === place.rows && to.stitches === place.stitches && to.moves === place.moves) return;
    place = to;
    store.save(place);
    show();
    say();
    if (isDone(place, data)) pause();
  }

  function start() {
    pause();
    if (isDone(place, data)) return;
    timer = window.setInterval(() => step(ahead), manner.seconds * 1000);
    timerButton.textContent = "Pause timer";
    timerButton.setAttribute("aria-pressed", "true");
  }

  function pause() {
    if (timer !== null) window.clearInterval(timer);
    timer = null;
    timerButton.textContent = "Start timer";
    timerButton.setAttribute("aria-pressed", "false");
  }

  /** @type {Record<string, () => void>} */
  const keys = {
    " ": () => step(ahead),
    ArrowRight: () => step(ahead),
    ArrowLeft: () => step(back),
    ArrowUp: () => go(ahead(place, "row", data)),
    ArrowDown: () => go(back(place, "row", data)),
    Home: () => go(isDone(place, data) ? place : { ...place, stitches: 0, moves: 0 }),
    End: () => go(isDone(place, data) ? place : { ...place, stitches: data.stitches - 1, moves: 0 }),
    PageUp: () => go({ rows: Math.min(place.rows + 10, data.rows), stitches: 0, moves: 0 }),
    PageDown: () => go({ rows: Math.max(place.rows - 10, 0), stitches: 0, moves: 0 }),
  };
  page.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    event.stopPropagation(); // plain keys would reach the notebook, where some of them delete cells
    const on = /** @type {HTMLElement} */ (event.target);
    const presses = event.key === " " && on !== desk; // a button or a summary takes it
    const writes = on.matches("input, select");
    if (event.shiftKey || writes || presses || !(event.key in keys)) return;
    event.preventDefault();
    keys[event.key]();
  });

  // ---- the manner ------------------------------------------------------------------------------------------

  function keepManner() {
    store.keepManner?.(manner);
  }

  function enlarge() {
    page.classList.toggle("mk-large", manner.large);
    largeButton.setAttribute("aria-pressed", String(manner.large));
  }

  // ---- showing --------------------------------------------------------------------------------------------

  function show() {
    const done = isDone(place, data);
    const at = done ? data.rows - 1 : place.rows;
    const work = data.work[at];
    const line = data.lines[work.line];
    head.replaceChildren(
      make("span", { className: "mk-swatch", style: `background: ${data.inks[work.inks[0]]}` }),
      done ? `All ${data.rows} done` : `${data.row} ${at + 1} of ${data.rows}: ${work.yarn} (${work.role})`,
    );
    const high = place.rows > 0 ? data.work[place.rows - 1].height : "";
    const stitches = done ? data.stitches : place.stitches;
    count.textContent =
      `${stitches} of ${data.stitches} stitches done; ` +
      `${place.rows} of ${data.rows} ${data.row.toLowerCase()}s done${high && `, ${high}`}`;
    rowBar.value = stitches;
    allBar.value = place.rows * data.stitches + place.stitches;
    const group = done ? null : groupAt(place, data);
    words.replaceChildren(...wordsOf(line, manner.style, data).map((text, piece) =>
      group && piece === 2 * group.run + 1 ? make("mark", {}, [text]) : text));
    times.textContent = group
      ? `${place.stitches - group.first + 1} of ${group.end - group.first} here${group.times && `, ${group.times}`}`
      : "";
    backButton.disabled = place.rows === 0 && place.stitches === 0 && place.moves === 0;
    nextButton.disabled = done;
    jumpBox.value = String(at + 1);
    about.replaceChildren(...data.about[manner.style].map((text) => make("li", {}, [text])));
    showStitch(done, work);
    for (const each of faces) paint(each.face, each.canvas);
  }

  /** @param {boolean} done @param {Work} work */
  function showStitch(done, work) {
    pictures.replaceChildren();
    moves.replaceChildren();
    if (done) {
      stitch.textContent = aside.textContent = "";
      return;
    }
    const [, column] = wayAt(place, data);
    const kind = kindAt(place, data);
    stitch.textContent = `Stitch ${place.stitches + 1}: ${kind.name}, ${kind.words}`;
    aside.textContent = kind.note;
    kind.moves.forEach((move, number) => {
      const now = manner.pace === "move" && number === place.moves;
      const item = make("li", now ? { className: "mk-this", "aria-current": "step" } : {}, [`${move.text} `]);
      item.append(make("span", { className: "mk-loops" }, [onTheHook(move.loops)]));
      moves.append(item);
    });
    for (const number of manner.pace === "move" ? [place.moves] : kind.shows) {
      const move = kind.moves[number];
      const drawing = make("div", { className: "mk-drawing", role: "img" });
      drawing.setAttribute("aria-label", `The column from its side. ${move.text} ${onTheHook(move.loops)}.`);
      drawing.innerHTML =
        `<svg viewBox="${data.view_box}" aria-hidden="true">${data.columns[column]}${move.over}</svg>`;
      work.inks.forEach((ink, below) => drawing.style.setProperty(`--mk-yarn${below}`, data.inks[ink]));
      pictures.append(make("figure", {}, [drawing, make("figcaption", {}, [`Move ${number + 1}`])]));
    }
  }

  /** @param {Face} face @param {HTMLCanvasElement} canvas */
  function paint(face, canvas) {
    const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    const high = Math.min(14, WIDEST / (data.stitches * data.aspect), WIDEST / data.rows);
    const wide = high * data.aspect;
    const sharp = window.devicePixelRatio || 1;
    const [width, height] = [data.stitches * wide, data.rows * high];
    canvas.width = Math.max(width * sharp, 1);
    canvas.height = Math.max(height * sharp, 1);
    canvas.style.width = `${width}px`;
    canvas.setAttribute("aria-label", `${face.name}: ${place.rows} of ${data.rows} ${data.row.toLowerCase()}s done.`);
    pen.setTransform(sharp, 0, 0, sharp, 0, 0);
    /** @param {number} top @param {number} left @param {number} length */
    const box = (top, left, length) => /** @type {[number, number, number, number]} */ (
      [left * wide, top * high, length * wide, high]);
    for (const [ink, top, left, length] of painted(face, place)) {
      pen.fillStyle = data.inks[ink];
      pen.fillRect(...box(top, left, length));
    }
    if (isDone(place, data)) return;
    const [row] = face.paint[place.rows].runs;
    for (const [colour, line, mark] of /** @type {const} */ ([
      ["#ffffff", 4, box(row[0], face.columns[place.stitches], 1)],
      ["#c2185b", 2, box(row[0], face.columns[place.stitches], 1)],
    ])) {
      pen.strokeStyle = colour;
      pen.lineWidth = line;
      pen.strokeRect(...mark);
    }
  }

  // ---- telling --------------------------------------------------------------------------------------------

  function say() {
    const text = saidAt(place, manner.pace, data);
    live.textContent = text;
    if (aloud) utter(text);
  }

  /** Voices on this machine: what is said goes to no network. */
  const voice = () => speechSynthesis.getVoices().find((each) => each.localService && each.lang.startsWith("en"));

  /** @param {string} text */
  function utter(text) {
    const here = voice();
    if (!here) {
      live.textContent = `${text} (This browser has no English voice of its own to read it aloud.)`;
      return;
    }
    speechSynthesis.cancel();
    const spoken = new SpeechSynthesisUtterance(text);
    spoken.voice = here;
    spoken.lang = here.lang;
    speechSynthesis.speak(spoken);
  }

  /** @param {boolean} wanted */
  function speak(wanted) {
    aloud = wanted && "speechSynthesis" in window;
    speechButton.setAttribute("aria-pressed", String(aloud));
    if (aloud) say();
    else if (wanted) live.textContent = "This browser cannot read aloud.";
    else speechSynthesis.cancel();
  }

  enlarge();
  show();
  return {
    goTo(to) {
      const there = placed(to, data);
      if (there.rows === place.rows && there.stitches === place.stitches && there.moves === place.moves) return;
      place = there;
      show();
    },
    tell(about, trouble) {
      note.textContent = about;
      banner.textContent = trouble;
      banner.hidden = !trouble;
    },
    stop() {
      pause();
      if (aloud) speechSynthesis.cancel();
      page.remove();
    },
  };
}

/** The guide in a notebook: Python keeps the place, and every message is answered, so that silence is noticed.
 * @param {{ model: any, el: HTMLElement }} given */
function render({ model, el }) {
  const view = Math.random().toString(36).slice(2);
  let seq = 0;
  let connected = true;
  let refused = "";
  /** @type {Map<number, number>} */
  const waiting = new Map(); // messages without an answer, by number: the timer that notices

  const store = {
    load: () => model.get("place"),
    /** @param {Place} place */
    save(place) {
      seq += 1;
      waiting.set(seq, window.setTimeout(() => connect(false), SILENCE_MS));
      model.send({ kind: "at", place, view, seq });
    },
  };
  const led = guide(el, model.get("data"), store);

  /** @param {boolean} now */
  function connect(now) {
    connected = now;
    tell();
  }

  function tell() {
    const lost = "Not connected to Python: steps taken now are not kept. Run the cell again to go on.";
    led.tell(model.get("note"), connected ? refused || model.get("trouble") : lost);
  }

  /** @param {any} answer */
  function hear(answer) {
    if (answer.view !== view) return;
    for (const [number, timer] of waiting) {
      if (number > answer.seq) continue;
      window.clearTimeout(timer);
      waiting.delete(number);
    }
    refused = answer.error ?? "";
    connect(true);
    // the hand is ahead of what was heard until its last step is answered
    if (answer.seq === seq && answer.error) led.goTo(model.get("place"));
  }

  function follow() {
    if (waiting.size === 0) led.goTo(model.get("place"));
  }

  model.on("msg:custom", hear);
  model.on("change:place", follow);
  model.on("change:note", tell);
  model.on("change:trouble", tell);
  tell();
  return () => {
    model.off("msg:custom", hear);
    model.off("change:place", follow);
    model.off("change:note", tell);
    model.off("change:trouble", tell);
    for (const timer of waiting.values()) window.clearTimeout(timer);
    led.stop();
  };
}

export default { render };
