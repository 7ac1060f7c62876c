"""Painters whose page and Python are so many milliseconds apart, and hands that do not wait.

The page is the painter's script in a real Chromium, Python is a real painter in this process. Between them messages
are carried as late as a run of the harness says, each way in the order in which they were sent, as a notebook's
connection carries them. Time passes in steps of GAP, and only when a step is done: so three seconds of delay take no
time, and nothing depends on the machine. In each step a page first hears what has come by then, then its hand does the
next thing, then its clock goes on.

Many painters go through their scripts in one page. Each has a clock of its own and need not wait for the others. It is
told what it hears in the next steps, and goes on alone until a step in which Python may answer what it has said since.
"""

import base64
import json
from pathlib import Path
from typing import NamedTuple

import mosaickit as mk
from mosaickit.widgets import MotifPainter

GAP = 40
"""Milliseconds between two things that a hand does."""

ENOUGH = 5
"""How many steps after the last message a page has said all that it says by itself."""

PAGE = """<!doctype html><meta charset="utf-8"><title>painters</title><body></body><script>
const bytes = (text) => new DataView(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer);
const text = (buffer) => btoa(String.fromCharCode(...new Uint8Array(buffer)));
HTMLElement.prototype.setPointerCapture = () => {};
HTMLElement.prototype.hasPointerCapture = () => true;
const painters = [];
let page;
class Clock {
  time = 1000;
  count = 0;
  waiting = new Map();
  later(does, passes = 0) {
    this.waiting.set(++this.count, { does, due: this.time + Math.max(passes, 1) });
    return this.count;
  }
  async pass(passes) {
    const end = this.time + passes;
    for (;;) {
      let [first, next] = [0, { due: Infinity }]; // of two for the same time the older one
      for (const [number, each] of this.waiting) if (each.due < next.due) [first, next] = [number, each];
      if (next.due > end) break;
      this.waiting.delete(first);
      this.time = next.due;
      next.does(this.time);
      await null;
    }
    this.time = end;
  }
}
let clock; // of the painter whose turn it is: what it does, at once or right after, is timed by it
function beMany() {
  // of many painters nothing is laid out but their pictures, and no number is drawn beside them
  document.head.append(Object.assign(document.createElement("style"), { textContent: `
    .mk-easel > :not(.mk-main), .mk-below { display: none }` }));
  CanvasRenderingContext2D.prototype.fillText = () => {};
  window.setTimeout = (does, passes) => clock.later(does, passes);
  window.requestAnimationFrame = (does) => clock.later(does, 16 - (clock.time % 16));
  window.clearTimeout = window.cancelAnimationFrame = (number) => clock.waiting.delete(number);
  performance.now = Date.now = () => clock.time;
  window.setInterval = () => { throw new Error("The clock of these painters knows no setInterval."); };
}
async function load(source) {
  page = (await import(URL.createObjectURL(new Blob([source], { type: "text/javascript" })))).default;
}
function begin(state, gestures = null) {
  const known = {}, listening = new Map(), sent = [], el = document.createElement("div");
  const put = (state) => {
    for (const [name, value] of Object.entries(state))
      known[name] = value !== null && typeof value === "object" && "bytes" in value ? bytes(value.bytes) : value;
    for (const name of Object.keys(state)) (listening.get(`change:${name}`) ?? []).slice().forEach((hear) => hear());
  };
  put(state);
  const model = {
    get: (name) => known[name],
    send: (content, _, buffers) => sent.push({ content, buffers: (buffers ?? []).map(text) }),
    on: (name, hear) => listening.set(name, [...(listening.get(name) ?? []), hear]),
    off: (name, hear) => listening.set(name, (listening.get(name) ?? []).filter((each) => each !== hear)),
  };
  // of many each is out of sight, unpainted, and laid out by itself
  const apart = "height: 2000px; position: absolute; left: -9000px; contain: strict";
  el.style.cssText = `width: 900px; ${gestures ? apart : ""}`;
  document.body.append(el);
  const end = page.render({ model, el });
  const custom = (content) => (listening.get("msg:custom") ?? []).forEach((hear) => hear(content));
  const banner = el.querySelector(".mk-banner");
  painters.push({ el, model, sent, put, end, custom, listening, gestures, banner, banners: new Set(), clock });
}
async function beginMany(told) {
  for (const { state, gestures } of JSON.parse(told)) {
    clock = new Clock();
    begin(state, gestures);
    Object.assign(painters.at(-1), { comes: new Map(), quiet: 0, idle: 0 });
    await clock.pass(GAP);
  }
}
function squaresOf(canvas, sheet) {
  // gives where a point of the picture, in squares, is on the page
  const side = (parseFloat(canvas.style.height) - 24) / sheet.rows, box = canvas.getBoundingClientRect();
  const margin = parseFloat(canvas.style.width) - 8 - sheet.columns * side;
  const left = sheet.edge === "left" ? margin : 4;
  const at = (x, y) => ({ clientX: box.left + left + x * side, clientY: box.top + 4 + y * side });
  return { at, box };
}
function act({ el, model }, [kind, ...what]) {
  const canvas = el.querySelector(".mk-canvas"), sheet = model.get("sheet");
  const event = { button: 0, pointerId: 1, bubbles: true, cancelable: true };
  const labelled = (name) => [...el.querySelectorAll("label")].find((each) => each.textContent.trim() === name);
  const change = (box, value) => {
    box.value = value;
    box.dispatchEvent(new Event("change"));
  };
  if (kind === "down" || kind === "move" || kind === "up") {
    const [x, y] = what[0], middle = squaresOf(canvas, sheet).at(x + 0.5, y + 0.5);
    canvas.dispatchEvent(new PointerEvent(`pointer${kind}`, { ...event, ...middle }));
  } else if (kind === "key") {
    const held = { shiftKey: what[1] === "shift", ctrlKey: what[1] === "ctrl" };
    canvas.dispatchEvent(new KeyboardEvent("keydown", { ...event, ...held, key: what[0] }));
  } else if (kind === "press") [...el.querySelectorAll("button")].find((each) => each.textContent === what[0]).click();
  else if (kind === "tick") labelled(what[0]).querySelector("input").click();
  else if (kind === "type") change(labelled(what[0]).querySelector("input"), what[1]);
  else if (kind === "choose") change(el.querySelector(`select[aria-label="${what[0]}"]`), what[1]);
  else throw new Error(`There is no gesture ${kind}.`);
}
// Goes on from a step to the one before which Python has to hear what was said since
async function goOn(painter, { step, until, late, comes }) {
  const { sent, gestures, banner, banners } = painter, said = [], waits = until !== null;
  for (const [at, message] of comes) painter.comes.set(at, [...(painter.comes.get(at) ?? []), message]);
  until ??= Infinity;
  for (; step < until && painter.idle < ENOUGH; step++) {
    const hears = painter.comes.get(step) ?? [];
    painter.comes.delete(step);
    banners.add(banner.textContent);
    for (const { method, state, content } of hears) method === "update" ? painter.put(state) : painter.custom(content);
    await null;
    if (gestures[0]?.[0] === "settle") {
      painter.quiet = waits || said.length || hears.length ? 0 : painter.quiet + 1;
      if (painter.quiet === ENOUGH) gestures.shift();
    } else {
      painter.quiet = 0;
      if (gestures.length) act(painter, gestures.shift());
    }
    await null;
    if (sent.length) {
      if (!said.length) until = Math.min(until, Math.max(step + 1, Math.ceil(step + late / GAP))); // answered then
      said.push([step, sent.splice(0)]);
    }
    await clock.pass(GAP);
    painter.idle = gestures.length || waits || said.length ? 0 : painter.idle + 1;
  }
  return { step, said, ended: painter.idle === ENOUGH };
}
async function goOnAll(told) {
  const all = [];
  for (const each of JSON.parse(told)) {
    const painter = painters[each.number];
    clock = painter.clock;
    all.push(await goOn(painter, each));
  }
  return JSON.stringify(all);
}
function picture({ el, model, banners }) {
  const canvas = el.querySelector(".mk-canvas"), sheet = model.get("sheet"), sharp = window.devicePixelRatio || 1;
  const larger = [...el.querySelectorAll("button")].find((each) => each.textContent === "Larger");
  while (parseFloat(canvas.style.height) < 20 * sheet.rows + 24) larger.click(); // so that a square is larger than what
  // outlines it
  const dots = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
  const { at, box } = squaresOf(canvas, sheet);
  const drawn = Array.from({ length: sheet.rows }, (_, y) => Array.from({ length: sheet.columns }, (_, x) => {
    const { clientX, clientY } = at(x + 0.78, y + 0.38); // a point of the square that no mark covers
    const [px, py] = [clientX - box.left, clientY - box.top];
    return dots[4 * (Math.round(py * sharp) * canvas.width + Math.round(px * sharp))] < 128 ? "#" : ".";
  }).join(""));
  const set = [...el.querySelectorAll("label input")].map((box) => (box.type === "checkbox" ? box.checked : box.value));
  banners.delete("");
  return { drawn, set, banners: [...banners] };
}
function end() {
  // gives how many still listen to their widget when their view has ended
  return painters.splice(0).map(({ end, el, listening, clock: own }) => {
    clock = own;
    end();
    el.remove();
    return [...listening.values()].flat().length;
  });
}
</script>""".replace("GAP", str(GAP)).replace("ENOUGH", str(ENOUGH))


class Run(NamedTuple):
    """What one hand does, and how late everything comes."""

    motif: mk.Motif
    gestures: list
    """Each of GAP milliseconds after the one before it; see `act` in the page. One may be ["settle"]: wait until
    nothing is on its way any more."""
    delay: int
    """Milliseconds from a message to its answer, at the least; or a list, one for each message, taken in turn."""
    sketch: Path


class Side:
    """A painter in this process, and what is on its way to it."""

    def __init__(self, run):
        self.run, self.said, self.there = run, [], []
        self.painter = MotifPainter(run.motif, autosave=run.sketch)
        self.painter.comm.send = lambda data=None, metadata=None, buffers=None: self.said.append((data, buffers or []))
        self.step = self.sent = self.heard = 0
        self.ended = False

    def state(self):
        return state_of(self.painter)

    @property
    def late(self):
        """How late the next message will be heard."""
        delay = self.run.delay
        return delay if isinstance(delay, int) else delay[self.sent % len(delay)]

    def send(self, messages, step):
        """Put what the page says in a step on its way."""
        for message in messages:
            due = max(step * GAP + self.late, self.there[-1][0] if self.there else 0)
            self.there.append((due, message))
            self.sent += 1

    def answers(self, step):
        """Hear what has come by a step; give what is said to it, and in which step it comes."""
        while self.there and self.there[0][0] <= step * GAP:
            _, message = self.there.pop(0)
            buffers = [memoryview(base64.b64decode(text)) for text in message["buffers"]]
            self.painter._receive(None, message["content"], buffers)
            self.heard += 1
        said, self.said = self.said, []
        for data, buffers in said:
            if data["method"] == "update":
                state = _joined(data["state"], data["buffer_paths"], buffers)
                yield step, {"method": "update", "state": state}
            elif data["method"] == "custom":  # what has to do with nothing else may come later
                aside = self.heard * 7 % 5 if self.run.delay else 0
                yield step + aside, {"method": "custom", "content": data["content"]}

    def known(self):
        """Say what the page hears from its step on, and until when that is all, but for answers to what it says now."""
        until = _step_of(self.there[-1]) if self.there else 0  # nothing overtakes the last that is on its way
        comes = list(self.answers(self.step))
        while self.there and _step_of(self.there[0]) < until:
            comes += self.answers(_step_of(self.there[0]))
        return {"step": self.step, "until": until if self.there else None, "late": self.late, "comes": comes}


def _step_of(on_its_way):
    """Give the first step by which something has come."""
    return -(-on_its_way[0] // GAP)


def state_of(widget):
    """What a page is told of a widget when it begins."""
    return _joined(*_split(widget.get_state()))


def _split(state):
    plain = {name: value for name, value in state.items() if not isinstance(value, bytes)}
    blobs = {name: value for name, value in state.items() if isinstance(value, bytes)}
    return plain, [[name] for name in blobs], list(blobs.values())


def _joined(state, paths, buffers):
    blobs = {path[0]: {"bytes": base64.b64encode(blob).decode()} for path, blob in zip(paths, buffers, strict=True)}
    kept = ("_esm", "_css", "layout")
    return {name: value for name, value in state.items() if name not in kept} | blobs


def open_page(browser_page, widget=MotifPainter):
    """Load a widget's script, as it goes to a notebook, into an open browser page, whose clock then stands still."""
    browser_page.clock.install(time=0)
    browser_page.clock.pause_at(1000)  # until then it would go on by itself
    browser_page.set_content(PAGE)
    browser_page.evaluate("load", widget._esm)


def begin_with(page, states):
    """Show a widget on the page in each of these states."""
    page.evaluate("states => JSON.parse(states).forEach((state) => begin(state))", json.dumps(states))


def open_painters(browser_page):
    """Load the painter's script into an open browser page, for painters that go through runs there."""
    browser_page.set_content(PAGE)
    browser_page.evaluate("beMany()")
    browser_page.evaluate("load", MotifPainter._esm)


def begin(page, runs):
    """Put a painter for each run into the page, and give the other side of each."""
    sides = [Side(run) for run in runs]
    told = [{"state": side.state(), "gestures": side.run.gestures} for side in sides]
    page.evaluate("beginMany", json.dumps(told))
    return sides


def walk(page, sides):
    """Let every hand go through its gestures, until nothing is on its way any more."""
    while ahead := [(number, side) for number, side in enumerate(sides) if not side.ended]:
        told = json.dumps([{"number": number} | side.known() for number, side in ahead])
        went = json.loads(page.evaluate("goOnAll", told))  # as text, which is carried far quicker
        for (_, side), each in zip(ahead, went, strict=True):
            side.step, side.ended = each["step"], each["ended"]
            for step, messages in each["said"]:
                side.send(messages, step)


def play(page, runs):
    """Let every hand go through its gestures; give for each its painter and what the page shows at the end."""
    sides = begin(page, runs)
    walk(page, sides)
    shown = json.loads(page.evaluate("JSON.stringify(painters.map(picture))"))
    page.evaluate("end()")
    return [(side.painter, show) for side, show in zip(sides, shown, strict=True)]
