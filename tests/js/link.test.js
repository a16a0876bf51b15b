// The line to Python: every question is answered once, by its own answer, and lateness is seen.

import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";

import { LATE_MS, Link, Newest } from "../../alarmlib/widgets/link.js";

/** A widget's model that notes what was sent and can be answered for. */
function fakeModel() {
  const heard = new Set();
  return {
    sent: [],
    on: (_name, call) => heard.add(call),
    off: (_name, call) => heard.delete(call),
    send(message) { this.sent.push(message); },
    tell: (message) => heard.forEach((call) => call(message, [])),
  };
}

beforeEach(() => mock.timers.reset());

test("answers in another order reach their own questions", async () => {
  const model = fakeModel();
  const link = new Link(model, () => {});
  const [one, two] = [link.ask({ kind: "a" }), link.ask({ kind: "b" })];
  const [first, second] = model.sent;
  model.tell({ client: link.client, seq: second.seq, ok: true, say: "b" });
  model.tell({ client: link.client, seq: first.seq, ok: true, say: "a" });
  assert.equal((await one).say, "a");
  assert.equal((await two).say, "b");
  assert.equal(link.open.length, 0);
});

test("answers for another form on the page, or for nothing asked, are left alone", () => {
  const model = fakeModel();
  const link = new Link(model, () => {});
  link.ask({ kind: "a" });
  model.tell({ client: "another", seq: 1, ok: true });
  model.tell({ client: link.client, seq: 7, ok: true });
  assert.equal(link.open.length, 1);
});

test("a question is late after its time, a quiet one never; the form is told of both", () => {
  mock.timers.enable({ apis: ["setTimeout", "Date"] });
  let told = 0;
  const link = new Link(fakeModel(), () => { told += 1; });
  link.ask({ kind: "look" }, { quiet: true });
  mock.timers.tick(LATE_MS + 20);
  assert.equal(link.late, false);
  link.ask({ kind: "edit" });
  mock.timers.tick(LATE_MS - 1);
  assert.equal(link.late, false);
  const before = told;
  mock.timers.tick(21);
  assert.equal(link.late, true);
  assert.equal(told, before + 1);
});

test("a dead line leaves the question open", () => {
  const model = { ...fakeModel(), send() { throw new Error("no kernel"); } };
  const link = new Link(model, () => {});
  link.ask({ kind: "edit" });
  assert.equal(link.open.length, 1);
});

test("a closed line hears nothing", () => {
  const model = fakeModel();
  const link = new Link(model, () => {});
  link.ask({ kind: "edit" });
  link.close();
  model.tell({ client: link.client, seq: 1, ok: true });
  assert.equal(link.open.length, 1);
});

/** A line whose questions are answered by hand. */
function slowLine() {
  const asked = [];
  return { asked, ask: (question) => new Promise((answer) => { asked.push({ question, answer }); }) };
}

const settled = () => new Promise((done) => { setImmediate(done); });

test("of questions while one is on its way only the newest is asked", async () => {
  const line = slowLine();
  const shown = [];
  const newest = new Newest(line, ({ n }) => shown.push(n));
  for (const n of [1, 2, 3, 4]) newest.want({ n });
  line.asked[0].answer({ ok: true });
  await settled();
  assert.deepEqual(line.asked.map(({ question }) => question.n), [1, 4]);
  line.asked[1].answer({ ok: true });
  await settled();
  assert.deepEqual(shown, [1, 4]);
});

test("after a stop no answer is shown, and the next question is asked", async () => {
  const line = slowLine();
  const shown = [];
  const newest = new Newest(line, ({ n }) => shown.push(n));
  newest.want({ n: 1 });
  newest.stop();
  line.asked[0].answer({ ok: true });
  await settled();
  newest.want({ n: 2 });
  line.asked[1].answer({ ok: false });
  await settled();
  newest.want({ n: 3 });
  line.asked[2].answer({ ok: true });
  await settled();
  assert.deepEqual(shown, [3], "1 was stopped, 2 was refused");
});

test("a deed that is on its way is answered after the line was closed, a text is not", async () => {
  const model = fakeModel();
  const link = new Link(model, () => {});
  const told = [];
  link.ask({ kind: "action", n: 0 }).then((each) => told.push(each.say));
  link.ask({ kind: "edit", id: "a" }).then((each) => told.push(each.say));
  link.close();
  model.tell({ client: link.client, seq: model.sent[1].seq, say: "saved" });
  model.tell({ client: link.client, seq: model.sent[0].seq, say: "done" });
  model.tell({ client: link.client, seq: model.sent[0].seq, say: "twice" });
  await Promise.resolve();
  assert.deepEqual(told, ["done"]);
});
