"""Painters whose page and Python are so many milliseconds apart, and hands that do not wait.

The page is the painter's script in a real Chromium, with a clock that stands still until it is told to go on; Python is
a real painter in this process. Between them messages are carried as late as a run of the harness says, each way in the
order in which they were sent, as a notebook's connection carries them. So three seconds of delay take no time, and
nothing depends on the machine. Many painters go through their scripts side by side in one page, a step at a time.
"""

import base64
import json
from pathlib import Path
from typing import NamedTuple

import mosaickit as mk
from mosaickit.widgets import MotifPainter

GAP = 40
"""Milliseconds between two things that a hand does."""

PAGE = """<!doctype html><meta charset="utf-8"><title>painters</title><body></body><script>
const bytes = (text) => new DataView(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer);
const text = (buffer) => btoa(String.fromCharCode(...new Uint8Array(buffer)));
HTMLElement.prototype.setPointerCapture = () => {};
HTMLElement.prototype.hasPointerCapture = () => true;
const painters = [];
let page;
async function load(source) {
  page = (await import(URL.createObjectURL(new Blob([source], { type: "text/javascript" })))).default;
}
function begin(state, many = false) {
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
  el.style.cssText = `width: 900px; ${many ? "position: absolute; left: -9000px" : ""}`; // out of sight, unpainted
  document.body.append(el);
  const end = page.render({ model, el });
  const custom = (content) => (listening.get("msg:custom") ?? []).forEach((hear) => hear(content));
  painters.push({ el, model, sent, put, end, custom, listening, banners: new Set() });
}
function point(canvas, sheet, [x, y]) {
  const side = (parseFloat(canvas.style.height) - 24) / sheet.rows, box = canvas.getBoundingClientRect();
  const margin = parseFloat(canvas.style.width) - 8 - sheet.columns * side;
  const left = sheet.edge === "left" ? margin : 4;
  return { clientX: box.left + left + (x + 0.5) * side, clientY: box.top + 4 + (y + 0.5) * side };
}
function act({ el, model }, [kind, ...what]) {
  const canvas = el.querySelector(".mk-canvas"), sheet = model.get("sheet");
  const event = { button: 0, pointerId: 1, bubbles: true, cancelable: true };
  const labelled = (name) => [...el.querySelectorAll("label")].find((each) => each.textContent.trim() === name);
  const change = (box, value) => {
    box.value = value;
    box.dispatchEvent(new Event("change"));
  };
  if (kind === "down" || kind === "move" || kind === "up")
    canvas.dispatchEvent(new PointerEvent(`pointer${kind}`, { ...event, ...point(canvas, sheet, what[0]) }));
  else if (kind === "key") {
    const held = { shiftKey: what[1] === "shift", ctrlKey: what[1] === "ctrl" };
    canvas.dispatchEvent(new KeyboardEvent("keydown", { ...event, ...held, key: what[0] }));
  } else if (kind === "press") [...el.querySelectorAll("button")].find((each) => each.textContent === what[0]).click();
  else if (kind === "tick") labelled(what[0]).querySelector("input").click();
  else if (kind === "type") change(labelled(what[0]).querySelector("input"), what[1]);
  else if (kind === "choose") change(el.querySelector(`select[aria-label="${what[0]}"]`), what[1]);
  else throw new Error(`There is no gesture ${kind}.`);
}
async function step(told) {
  const steps = JSON.parse(told);
  steps.forEach(({ hears }, number) => {
    const painter = painters[number];
    painter.banners.add(painter.el.querySelector(".mk-banner").textContent);
    for (const { method, state, content } of hears) method === "update" ? painter.put(state) : painter.custom(content);
  });
  await null;
  steps.forEach(({ gesture }, number) => { if (gesture) act(painters[number], gesture); });
  await null;
  return JSON.stringify(painters.map(({ sent }) => sent.splice(0)));
}
function picture({ el, model, banners }) {
  const canvas = el.querySelector(".mk-canvas"), sheet = model.get("sheet"), sharp = window.devicePixelRatio || 1;
  const larger = [...el.querySelectorAll("button")].find((each) => each.textContent === "Larger");
  for (let width = ""; width !== canvas.style.width; larger.click()) width = canvas.style.width; // so that a square is
  // larger than what outlines it
  const dots = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height).data;
  const origin = canvas.getBoundingClientRect(), side = (parseFloat(canvas.style.height) - 24) / sheet.rows;
  const drawn = Array.from({ length: sheet.rows }, (_, y) => Array.from({ length: sheet.columns }, (_, x) => {
    // a point of the square that no mark covers
    const { clientX, clientY } = point(canvas, sheet, [x, y]);
    const [px, py] = [clientX - origin.left + 0.28 * side, clientY - origin.top - 0.12 * side];
    return dots[4 * (Math.round(py * sharp) * canvas.width + Math.round(px * sharp))] < 128 ? "#" : ".";
  }).join(""));
  const set = [...el.querySelectorAll("label input")].map((box) => (box.type === "checkbox" ? box.checked : box.value));
  banners.delete("");
  return { drawn, set, banners: [...banners] };
}
function end() {
  // gives how many still listen to their widget when their view has ended
  return painters.splice(0).map(({ end, el, listening }) => {
    end();
    el.remove();
    return [...listening.values()].flat().length;
  });
}
</script>"""


class Run(NamedTuple):
    """What one hand does, and how late everything comes."""

    motif: mk.Motif
    gestures: list
    """Each of GAP milliseconds after the one before it; see `act` in the page."""
    delay: int
    """Milliseconds from a message to its answer, at the least; or a list, one for each message, taken in turn."""
    sketch: Path


class Side:
    """A painter in this process, and what is on its way from it and to it."""

    def __init__(self, run):
        self.run, self.said, self.there, self.aside = run, [], [], []
        self.painter = MotifPainter(run.motif, autosave=run.sketch)
        self.painter.comm.send = lambda data=None, metadata=None, buffers=None: self.said.append((data, buffers or []))
        self.sent = self.quiet = 0

    def state(self):
        return state_of(self.painter)

    def send(self, messages, now):
        delay = self.run.delay
        for message in messages:
            late = delay if isinstance(delay, int) else delay[self.sent % len(delay)]
            due = max(now + late, self.there[-1][0] if self.there else 0)
            self.there.append((due, message))
            self.sent += 1

    def answers(self, now):
        """Hear what has come by now, and give what is said to it."""
        while self.there and self.there[0][0] <= now:
            _, message = self.there.pop(0)
            buffers = [memoryview(base64.b64decode(text)) for text in message["buffers"]]
            self.painter._receive(None, message["content"], buffers)
        said, self.said = self.said, []
        messages = []
        for data, buffers in said:
            if data["method"] == "update":
                messages.append({"method": "update", "state": _joined(data["state"], data["buffer_paths"], buffers)})
            elif data["method"] == "custom":  # what has to do with nothing else may come later
                late = self.sent * 7 % 5 if self.run.delay else 0
                self.aside.append((late, {"method": "custom", "content": data["content"]}))
        messages += [message for late, message in self.aside if late <= 0]
        self.aside = [(late - 1, message) for late, message in self.aside if late > 0]
        return messages


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


def begin(page, sides):
    """Put each painter into the page, beside what is in sight."""
    states = json.dumps([side.state() for side in sides])
    page.evaluate("states => JSON.parse(states).forEach((state) => begin(state, true))", states)


def begin_with(page, states):
    """Show a widget on the page in each of these states."""
    page.evaluate("states => JSON.parse(states).forEach((state) => begin(state))", json.dumps(states))


def step(page, sides, gestures, now, hears=None):
    """Let each page hear what has come, and each hand do one thing or None; what the pages send is on its way then."""
    steps = [
        {"gesture": gesture, "hears": heard}
        for gesture, heard in zip(gestures, hears or [[] for _ in sides], strict=True)
    ]
    sent = json.loads(page.evaluate("step", json.dumps(steps)))  # as text, which is carried far quicker
    for side, messages in zip(sides, sent, strict=True):
        side.send(messages, now)


def play(page, runs):
    """Let every hand go through its gestures; give for each its painter and what the page shows at the end."""
    sides = [Side(run) for run in runs]
    begin(page, sides)
    page.clock.run_for(GAP)
    ahead = [list(run.gestures) for run in runs]
    now = idle = 0
    while idle < 5:  # so long that what the page says by and by is said
        hears = [side.answers(now) for side in sides]
        now_done = []
        for side, gestures, heard in zip(sides, ahead, hears, strict=True):
            if gestures and gestures[0] == ["settle"]:
                gesture, side.quiet = None, 0 if side.there or heard else side.quiet + 1
                if side.quiet == 5:
                    gestures.pop(0)
            else:
                gesture, side.quiet = gestures.pop(0) if gestures else None, 0
            now_done.append(gesture)
        step(page, sides, now_done, now, hears)
        # nothing happens until the next message comes, but what the page does by itself
        due = min((side.there[0][0] for side in sides if side.there), default=now)
        passes = GAP if any(ahead) else max(GAP, due - now)
        page.clock.run_for(passes)
        now += passes
        idle = 0 if any(ahead) or any(side.there for side in sides) else idle + 1
    shown = json.loads(page.evaluate("JSON.stringify(painters.map(picture))"))
    page.evaluate("end()")
    return [(side.painter, show) for side, show in zip(sides, shown, strict=True)]
