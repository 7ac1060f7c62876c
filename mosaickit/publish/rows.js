// The guide from row to row. It moves through steps that stand in the page and knows nothing of the craft.
const steps = [...find("steps").content.children];
const desk = find("desk"), strip = find("strip"), near = find("near");
const square = Number(near.dataset.square), width = Number(near.dataset.width);

let done = 0; // steps that are done; the next one is on the desk
const within = (count) => Math.min(Math.max(Math.trunc(Number(count)) || 0, 0), steps.length);

const show = () => {
  const at = Math.min(done, steps.length - 1);
  const finished = done === steps.length;
  find("words").replaceChildren(...[...steps[at].children].map((part) => part.cloneNode(true)));
  const top = Number(steps[at].dataset.top);
  near.setAttribute("viewBox", `0 ${top - 2 * square} ${width} ${5 * square}`);
  for (const mark of [find("mark"), find("near-mark")]) {
    mark.setAttribute("y", String(top));
    mark.setAttribute("visibility", finished ? "hidden" : "visible");
  }
  find("done").value = done;
  const count = find("count");
  const said = finished ? count.dataset.all : count.dataset.some;
  count.textContent = said.replace("{done}", String(done)).replace("{n}", String(steps.length));
  find("back").disabled = done === 0;
  find("next").disabled = finished;
  find("jump").value = String(at + 1);
};
const go = (count) => {
  done = within(count);
  keep({ done });
  show();
};

const keys = {
  ArrowRight: () => go(done + 1),
  ArrowUp: () => go(done + 1),
  ArrowLeft: () => go(done - 1),
  ArrowDown: () => go(done - 1),
  Home: () => go(0),
  End: () => go(steps.length - 1),
  " ": () => go(done + 1),
};
document.addEventListener("keydown", (event) => {
  const on = event.target;
  const plain = !(event.ctrlKey || event.metaKey || event.altKey || event.shiftKey);
  // on the desk all keys; with nothing in focus those that would not scroll the page; never in a field or a scroller
  const sideways = event.key === "ArrowLeft" || event.key === "ArrowRight";
  const ours = on === desk || (on.tagName === "BUTTON" && desk.contains(on) && event.key !== " ");
  if (plain && event.key in keys && (ours || (on === document.body && sideways))) {
    event.preventDefault();
    keys[event.key]();
  }
});
find("back").addEventListener("click", () => go(done - 1));
find("next").addEventListener("click", () => go(done + 1));
find("again").addEventListener("click", () => go(0));
const jump = () => go(Math.max(within(find("jump").value), 1) - 1);
find("go").addEventListener("click", jump);
find("jump").addEventListener("keydown", (event) => {
  if (event.key === "Enter") {
    jump();
  }
});

let touch = null;
desk.addEventListener("touchstart", (event) => {
  const one = event.touches.length === 1 && !strip.contains(event.target);
  touch = one ? { x: event.touches[0].clientX, y: event.touches[0].clientY } : null;
}, { passive: true });
desk.addEventListener("touchend", (event) => {
  if (touch) {
    const across = event.changedTouches[0].clientX - touch.x;
    const down = event.changedTouches[0].clientY - touch.y;
    if (Math.abs(across) > 60 && Math.abs(across) > 2 * Math.abs(down)) {
      go(done + (across < 0 ? 1 : -1));
    }
  }
  touch = null;
});

done = within(recall().done);
near.setAttribute("width", String((8.5 * 16 * width) / (5 * square)));
show();
toEdge(strip);
