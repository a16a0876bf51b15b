// What moved is put into the model, and a message that was missed is noticed.

import assert from "node:assert/strict";
import { test } from "node:test";

import { initialize } from "../../alarmlib/widgets/moved.js";

/** A widget's model as far as this script needs it. */
function fakeModel(state) {
  const heard = {};
  return {
    state,
    sent: [],
    get(name) { return this.state[name]; },
    set(more) { Object.assign(this.state, more); },
    on(name, call) { heard[name] = call; },
    send(message) { this.sent.push(message); },
    come(more) {
      Object.assign(this.state, more);
      for (const name of Object.keys(more)) heard[`change:${name}`]?.();
    },
  };
}

const field = (key, text) => ({ values: { keys: { [key]: { all: text } }, gone: [] } });

test("a changed field is put in, the others stay the same", () => {
  const rows = ["a"];
  const model = fakeModel({ turn: 0, moved: { turn: 0 }, values: { one: "1", two: "2" }, rows });
  initialize({ model });
  model.come({ moved: { turn: 1, keys: field("two", "3"), gone: [] } });
  assert.deepEqual(model.state.values, { one: "1", two: "3" });
  assert.equal(model.state.rows, rows);
  assert.deepEqual(model.sent, []);
});

test("a missed message makes it ask for the whole, and what follows that counts again", () => {
  const model = fakeModel({ turn: 0, moved: { turn: 0 }, values: { one: "1" } });
  initialize({ model });
  model.come({ moved: { turn: 2, keys: field("one", "3"), gone: [] } });
  assert.deepEqual([model.sent, model.state.values], [[{ kind: "whole" }], { one: "1" }]);
  model.come({ values: { one: "3" }, turn: 2 });
  model.come({ moved: { turn: 3, keys: field("one", "4"), gone: [] } });
  assert.deepEqual(model.state.values, { one: "4" });
});

test("a model that was there before its script asks too", () => {
  const model = fakeModel({ turn: 1, moved: { turn: 5, keys: {} }, values: {} });
  initialize({ model });
  assert.deepEqual(model.sent, [{ kind: "whole" }]);
});
