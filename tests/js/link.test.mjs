// The page's end of a widget's talk with Python, in the very file that ships. Run by `node --test`, which
// tests/test_link.py calls; the clock is the test's own.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Link } from "../../mosaickit/widgets/link.js";

/** A model that keeps what is sent, with a kernel whose status a test can change and a clock that it moves. */
function stage(t) {
  let now = 0;
  t.mock.timers.enable({ apis: ["setTimeout"] });
  t.mock.method(performance, "now", () => now);
  const pass = (ms) => { now += ms; t.mock.timers.tick(ms); };
  const listening = new Map(), sent = [], kernel = new Set(), told = [];
  const model = {
    send: (content) => sent.push(content),
    on: (name, hear) => listening.set(name, [...(listening.get(name) ?? []), hear]),
    off: (name, hear) => listening.set(name, listening.get(name).filter((each) => each !== hear)),
    widget_manager: { kernel: { statusChanged: { connect: (hear) => kernel.add(hear), disconnect: (hear) => kernel.delete(hear) } } },
  };
  const link = new Link(model, {
    hears: (answer) => told.push(answer.said), changes: () => told.push("changes"), loses: () => told.push("loses"),
  });
  const say = (name, ...given) => (listening.get(name) ?? []).forEach((hear) => hear(...given));
  const status = (name) => kernel.forEach((hear) => hear(null, name));
  const listeners = () => [...listening.values()].flat().length + kernel.size;
  return { link, sent, told, say, status, listeners, pass };
}

test("messages are numbered, and an answer counts for all up to its number", (t) => {
  const { link, sent, told, say } = stage(t);
  assert.deepEqual([1, 2, 3].map((n) => link.send({ n }, [], `about ${n}`)), [1, 2, 3]);
  assert.deepEqual(sent.map(({ n, seq, view }) => [n, seq, view === link.view]), [[1, 1, true], [2, 2, true], [3, 3, true]]);
  say("msg:custom", { view: "another", seq: 3, said: "not for me" });
  assert.deepEqual(link.unanswered, ["about 1", "about 2", "about 3"]);
  say("msg:custom", { view: link.view, seq: 2, said: "done" });
  assert.deepEqual([link.unanswered, told], [["about 3"], ["done"]]);
  say("msg:custom", { view: link.view, said: "by the way" });
  assert.deepEqual([link.unanswered, link.heard], [["about 3"], 2]);
});

test("silence is noticed when a message has waited too long, and ends with what waited", (t) => {
  const { link, told, say, pass } = stage(t);
  link.send({});
  pass(1500);
  link.send({});
  pass(499);
  assert.deepEqual([link.connected, told], [true, []]);
  pass(1);
  assert.deepEqual([link.connected, told], [false, ["changes"]]);
  pass(2000); // the second has waited too long as well
  say("msg:custom", { view: link.view, seq: 1 });
  assert.equal(link.connected, false);
  say("msg:custom", { view: link.view, seq: 2 });
  assert.equal(link.connected, true);
  // a message that is answered in time is none that was waited for
  link.send({});
  pass(1000);
  say("msg:custom", { view: link.view, seq: 3 });
  told.length = 0;
  pass(10000);
  assert.deepEqual([link.connected, told], [true, []]);
});

test("a kernel that is gone is noticed once, and an answer shows that it was not", (t) => {
  const { link, told, say, status } = stage(t);
  status("busy");
  assert.deepEqual([link.lost, told], [false, []]);
  status("restarting");
  say("comm_live_update");
  assert.deepEqual([link.lost, link.connected, told], [true, false, ["loses"]]);
  link.send({});
  say("msg:custom", { view: link.view, seq: 1, said: "here" });
  assert.deepEqual([link.lost, link.connected], [false, true]);
});

test("a link that has ended listens to nothing, and waits for nothing", (t) => {
  const { link, told, listeners, pass } = stage(t);
  assert.equal(listeners(), 3);
  link.send({});
  link.end();
  assert.equal(listeners(), 0);
  pass(10000);
  assert.deepEqual(told, []);
});
