// @ts-check
/** What a guide's page is made of, and what each part of it shows at a place. */

import { make } from "./elements.js";
import { paintFace } from "./guide_face.js";
import { PACES } from "./guide_keeping.js";
import { groupAt, isDone, kindAt, wayAt } from "./guide_places.js";
import { onTheHook, wordsOf } from "./guide_words.js";

/**
 * @typedef {import("./guide_places.js").Data} Data
 * @typedef {import("./guide_places.js").Place} Place
 * @typedef {import("./guide_places.js").Work} Work
 * @typedef {import("./guide_keeping.js").Manner} Manner
 */

const KEYS = [
  ["Space or →", "next step"],
  ["←", "one step back"],
  ["↑ and ↓", "next row, row before"],
  ["Home and End", "first and last stitch of the row"],
  ["Page up and down", "ten rows on, ten rows back"],
];

/** @param {string} text @param {Record<string, any>} [set] */
const pressed = (text, set = {}) => make("button", { type: "button", ...set }, [text]);

/** Every control of a guide, by name; what they do is not said here.
 * @param {Data} data @param {Manner} manner */
export function controlsOf(data, manner) {
  const controls = {
    back: pressed("Back", { className: "mk-big" }),
    next: pressed("Next", { className: "mk-big mk-next" }),
    pace: make("select", {}, PACES.map(([name, text]) => make("option", { value: name }, [text]))),
    style: make("select", {}, data.styles.map((text, style) => make("option", { value: String(style) }, [text]))),
    jump: make("input", { type: "number", min: "1", max: String(data.rows), value: "1" }),
    go: pressed("Go"),
    seconds: make("input", { type: "number", min: "0.5", max: "600", step: "0.5", value: String(manner.seconds) }),
    timer: pressed("Start timer", { "aria-pressed": "false" }),
    large: pressed("Large type"),
    speech: pressed("Read aloud", { "aria-pressed": "false" }),
  };
  controls.pace.value = manner.pace;
  controls.style.value = String(manner.style);
  return controls;
}

/** The line of settings.
 * @param {Data} data @param {ReturnType<typeof controlsOf>} controls */
function settingsOf(data, controls) {
  const { pace, style, jump, go, seconds, timer, large, speech } = controls;
  return make("div", { className: "mk-settings", role: "group", "aria-label": "Settings of the guide" }, [
    make("label", {}, ["Step ", pace]),
    make("label", {}, ["Words ", style]),
    make("span", { className: "mk-pair" }, [make("label", {}, [`${data.row} `, jump]), go]),
    make("span", { className: "mk-pair" }, [make("label", {}, ["Seconds ", seconds]), timer]),
    large, speech,
  ]);
}

/** How rows start and end, and the keys, folded away.
 * @param {Data} data @param {HTMLElement} about */
function moreOf(data, about) {
  return make("details", {}, [
    make("summary", {}, [`How ${data.row.toLowerCase()}s start and end, and keys`]),
    about,
    make("table", {}, [
      make("caption", {}, ["Keys, while the guide has the focus"]),
      make("tbody", {}, KEYS.map(([key, does]) =>
        make("tr", {}, [make("th", { scope: "row" }, [key]), make("td", {}, [does])]))),
    ]),
  ]);
}

export class Panels {
  /** @param {Data} data @param {Manner} manner */
  constructor(data, manner) {
    this.data = data;
    this.manner = manner;
    this.controls = controlsOf(data, manner);
    this.banner = make("div", { className: "mk-banner", role: "alert", hidden: true });
    this.note = make("div", { className: "mk-note", role: "status" });
    this.live = make("div", { className: "mk-live", role: "status" });
    this.head = make("p", { className: "mk-head" });
    this.count = make("div", { className: "mk-count" });
    this.rowBar = make("progress", { max: data.stitches, "aria-label": `Stitches of the ${data.row.toLowerCase()}` });
    this.allBar = make("progress", { max: data.rows * data.stitches, "aria-label": "All stitches" });
    this.words = make("p", { className: "mk-words" });
    this.times = make("p", { className: "mk-times" });
    this.stitch = make("p", { className: "mk-stitch" });
    this.moves = make("ol", { className: "mk-moves" });
    this.aside = make("p", { className: "mk-aside" });
    this.pictures = make("div", { className: "mk-pictures" });
    this.about = make("ul");
    this.faces = data.faces.map((face) => {
      const canvas = make("canvas", { role: "img" });
      return { face, canvas, figure: make("figure", {}, [canvas, make("figcaption", {}, [face.name])]) };
    });
    this.desk = make("div", { className: "mk-desk", tabIndex: 0, role: "group", "aria-label": `Guide: ${data.title}` }, [
      make("div", { className: "mk-top" }, [this.head, this.count, this.rowBar, this.allBar]),
      this.words, this.times,
      make("div", { className: "mk-now" }, [
        make("div", { className: "mk-how" }, [this.stitch, this.moves, this.aside]), this.pictures,
      ]),
    ]);
    this.page = make("div", { className: "mk-guide" }, [
      this.banner, make("div", { className: "mk-buttons" }, [this.controls.back, this.controls.next]), this.desk,
      this.live, settingsOf(data, this.controls),
      make("div", { className: "mk-faces" }, this.faces.map((each) => each.figure)), this.note,
      moreOf(data, this.about),
    ]);
  }

  enlarge() {
    this.page.classList.toggle("mk-large", this.manner.large);
    this.controls.large.setAttribute("aria-pressed", String(this.manner.large));
  }

  /** @param {Place} place */
  show(place) {
    const { data, manner, controls } = this;
    const done = isDone(place, data);
    const at = done ? data.rows - 1 : place.rows;
    const work = data.work[at];
    const group = done ? null : groupAt(place, data);
    this.showHead(place, work);
    this.words.replaceChildren(...wordsOf(data.lines[work.line], manner.style, data).map((text, piece) =>
      group && piece === 2 * group.run + 1 ? make("mark", {}, [text]) : text));
    this.times.textContent = group
      ? `${place.stitches - group.first + 1} of ${group.end - group.first} here${group.times && `, ${group.times}`}`
      : "";
    controls.back.disabled = place.rows === 0 && place.stitches === 0 && place.moves === 0;
    controls.next.disabled = done;
    controls.jump.value = String(at + 1);
    this.about.replaceChildren(...data.about[manner.style].map((text) => make("li", {}, [text])));
    this.showStitch(place, work);
    for (const each of this.faces) paintFace(each.face, each.canvas, place, data);
  }

  /** @param {Place} place @param {Work} work of the row in hand, or of the last one */
  showHead(place, work) {
    const { data } = this;
    const done = isDone(place, data);
    this.head.replaceChildren(
      make("span", { className: "mk-swatch", style: `background: ${data.inks[work.inks[0]]}` }),
      done
        ? `All ${data.rows} done`
        : `${data.row} ${place.rows + 1} of ${data.rows}: ${work.changes ? "change to " : ""}${work.yarn} (${work.role})`,
    );
    const high = place.rows > 0 ? data.work[place.rows - 1].height : "";
    const stitches = done ? data.stitches : place.stitches;
    this.count.textContent =
      `${stitches} of ${data.stitches} stitches done; ` +
      `${place.rows} of ${data.rows} ${data.row.toLowerCase()}s done${high && `, ${high}`}`;
    this.rowBar.value = stitches;
    this.allBar.value = place.rows * data.stitches + place.stitches;
  }

  /** @param {Place} place @param {Work} work */
  showStitch(place, work) {
    const { data, manner } = this;
    this.pictures.replaceChildren();
    this.moves.replaceChildren();
    if (isDone(place, data)) {
      this.stitch.textContent = this.aside.textContent = "";
      return;
    }
    const [, column] = wayAt(place, data);
    const kind = kindAt(place, data);
    this.stitch.textContent = `Stitch ${place.stitches + 1}: ${kind.name}, ${kind.words}`;
    this.aside.textContent = kind.note;
    kind.moves.forEach((move, number) => {
      const now = manner.pace === "move" && number === place.moves;
      const item = make("li", now ? { className: "mk-this", "aria-current": "step" } : {}, [`${move.text} `]);
      item.append(make("span", { className: "mk-loops" }, [onTheHook(move.loops)]));
      this.moves.append(item);
    });
    for (const number of manner.pace === "move" ? [place.moves] : kind.shows) {
      const move = kind.moves[number];
      const drawing = make("div", { className: "mk-drawing", role: "img" });
      drawing.setAttribute("aria-label", `The column from its side. ${move.text} ${onTheHook(move.loops)}.`);
      drawing.innerHTML =
        `<svg viewBox="${data.view_box}" aria-hidden="true">${data.columns[column]}${move.over}</svg>`;
      work.inks.forEach((ink, below) => drawing.style.setProperty(`--mk-yarn${below}`, data.inks[ink]));
      this.pictures.append(make("figure", {}, [drawing, make("figcaption", {}, [`Move ${number + 1}`])]));
    }
  }
}
