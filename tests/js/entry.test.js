// A field's life between the person and Python: nothing typed is lost, nothing saved twice, nothing overwritten.

import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { Entry, PAUSE_MS } from "../../alarmlib/widgets/entry.js";
import { kept } from "../../alarmlib/widgets/kept.js";

const settled = () => new Promise((done) => { setImmediate(done); });

/** An entry with a control and a form of which each act is noted; `answer` speaks for Python. */
function made(shown = "3 m") {
  const asked = [];
  const form = {
    key: "test",
    values: { width: shown },
    link: { ask: (message) => new Promise((answer) => { asked.push({ message, answer }); }) },
    redraws: [],
    redraw(said) { this.redraws.push(said); },
    savedBy: [],
    saved(by) { this.savedBy.push(by); },
  };
  const control = {
    text: shown,
    inHand: false,
    get() { return this.text; },
    set(text) { this.text = text; },
    focused() { return this.inHand; },
    focus() { this.inHand = true; },
  };
  const entry = new Entry(form, "width", "Width", control);
  const type = (text) => {
    control.inHand = true;
    control.text = text;
    entry.typed();
  };
  const answer = async (told) => {
    asked.at(-1).answer(told);
    await settled();
  };
  return { entry, form, control, asked, type, answer };
}

beforeEach(() => {
  mock.timers.reset();
  mock.timers.enable({ apis: ["setTimeout"] });
  kept.memory.clear();
});

test("what is typed is kept at once, sent after a pause, and dropped from what is kept when saved", async () => {
  const { entry, form, control, asked, type, answer } = made();
  type("4");
  assert.equal(kept.load("test").width.text, "4");
  mock.timers.tick(PAUSE_MS - 1);
  assert.equal(asked.length, 0);
  mock.timers.tick(1);
  assert.deepEqual(asked[0].message, { kind: "edit", id: "width", text: "4", seen: "3 m" });
  await answer({ ok: true, shown: "4 m" });
  assert.deepEqual(kept.load("test"), {});
  assert.equal(control.text, "4", "the text in hand is not changed");
  assert.deepEqual(form.savedBy, [entry]);
});

test("further letters begin the pause anew: one message", () => {
  const { asked, type } = made();
  for (const text of ["4", "4.", "4.5"]) {
    type(text);
    mock.timers.tick(PAUSE_MS - 1);
  }
  assert.equal(asked.length, 0);
  mock.timers.tick(1);
  assert.deepEqual(asked.map(({ message }) => message.text), ["4.5"]);
});

test("typing back what is saved sends nothing and keeps nothing", () => {
  const { asked, type } = made();
  type("4");
  type("3 m");
  mock.timers.tick(PAUSE_MS);
  assert.equal(asked.length, 0);
  assert.deepEqual(kept.load("test"), {});
});

test("leaving the field sends at once; once saved, Python's way to write it is shown", async () => {
  const { entry, control, asked, type, answer } = made();
  type("4");
  control.inHand = false;
  entry.settle();
  assert.equal(asked.length, 1);
  await answer({ ok: true, shown: "4 m" });
  assert.equal(control.text, "4 m");
});

test("what is typed while a message is on its way follows it, over the value just saved", async () => {
  const { asked, type, answer } = made();
  type("4");
  mock.timers.tick(PAUSE_MS);
  type("45");
  mock.timers.tick(PAUSE_MS);
  assert.equal(asked.length, 1, "one at a time");
  await answer({ ok: true, shown: "4 m" });
  assert.deepEqual(asked[1].message, { kind: "edit", id: "width", text: "45", seen: "4 m" });
});

test("a refused text stays, is told of once the field is left, and is not sent again by itself", async () => {
  const { entry, control, asked, type, answer } = made();
  type("long");
  mock.timers.tick(PAUSE_MS);
  await answer({ ok: false, error: "A length is a number." });
  assert.equal(entry.problem, "", "not while it is in hand");
  control.inHand = false;
  entry.settle();
  assert.equal(entry.problem, "A length is a number.");
  assert.equal(asked.length, 1);
  assert.equal(kept.load("test").width.text, "long");
  entry.send(true);
  assert.equal(asked.length, 2, "asked for by the form, it is tried again");
});

test("a value that moved in Python goes over neither what is typed nor what is in hand", () => {
  const { entry, control, type } = made();
  entry.given("5 m");
  assert.equal(control.text, "5 m");
  control.inHand = true;
  entry.given("6 m");
  assert.equal(control.text, "5 m");
  type("7");
  control.inHand = false;
  entry.given("8 m");
  assert.equal(control.text, "7");
});

test("a clash keeps both until the person chooses: mine is sent over theirs", async () => {
  const { entry, asked, type, answer } = made();
  type("4");
  mock.timers.tick(PAUSE_MS);
  await answer({ ok: false, clash: { theirs: "9 m", theirs_text: "9 m", mine_text: "4" } });
  assert.equal(entry.problem, "changed elsewhere too");
  entry.send();
  assert.equal(asked.length, 1, "nothing is sent while it is open");
  entry.takeMine();
  assert.deepEqual(asked[1].message, { kind: "edit", id: "width", text: "4", seen: "9 m" });
});

test("a clash: theirs is shown and nothing is kept", async () => {
  const { entry, form, control, type, answer } = made();
  type("4");
  mock.timers.tick(PAUSE_MS);
  await answer({ ok: false, clash: { theirs: "9 m", theirs_text: "9 m", mine_text: "4" } });
  form.values = { width: "9 m" };
  entry.takeTheirs();
  assert.equal(control.text, "9 m");
  assert.equal(entry.problem, "");
  assert.deepEqual(kept.load("test"), {});
});

test("without a clash there is nothing of mine to take", () => {
  const { entry, asked } = made();
  entry.takeMine();
  assert.equal(asked.length, 0);
});

test("after a re-run what was not saved is shown and sent again", () => {
  const { entry, control, asked } = made();
  entry.restore({ text: "4", seen: "2 m", sent: null });
  assert.equal(control.text, "4");
  assert.equal(asked[0].message.seen, "2 m", "Python finds out that it moved");
});

test("after a re-run what had arrived after all is not sent again", () => {
  const { entry, asked } = made("4 m");
  entry.restore({ text: "4 m", seen: "3 m", sent: "4 m" });
  assert.equal(asked.length, 0);
  assert.equal(entry.entry, null);
});
