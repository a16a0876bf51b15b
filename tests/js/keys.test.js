// Keys that stay in a form: else one letter on a drop-down would turn or cut a cell of the notebook.

import assert from "node:assert/strict";
import { test } from "node:test";

import { isOurs, keepKeys } from "../../alarmlib/widgets/keys.js";

const key = (name, more = {}) => ({ key: name, ctrlKey: false, metaKey: false, altKey: false, ...more });

test("letters, Enter, Escape and a lone modifier stay in the form", () => {
  for (const name of ["m", "a", "b", "x", "d", "z", "r", "0", "Enter", "Escape", "Tab", "ArrowDown", "Control", "Meta", "Shift"]) {
    assert.ok(isOurs(key(name)), name);
  }
});

test("with Ctrl or Cmd only what edits text stays; saving goes through", () => {
  for (const held of [{ ctrlKey: true }, { metaKey: true }]) {
    for (const name of ["a", "C", "v", "x", "Z", "Backspace", "ArrowLeft", "Home"]) assert.ok(isOurs(key(name, held)), name);
    for (const name of ["s", "S", "p", "r", "f"]) assert.ok(!isOurs(key(name, held)), name);
  }
});

test("Ctrl with Alt types a letter on many keyboards and stays", () => {
  assert.ok(isOurs(key("q", { ctrlKey: true, altKey: true })));
});

test("a key of ours goes no further, another does", () => {
  let stopped = 0;
  const event = (name, more) => ({ ...key(name, more), stopPropagation: () => { stopped += 1; } });
  keepKeys(event("m"));
  assert.equal(stopped, 1);
  keepKeys(event("s", { ctrlKey: true }));
  assert.equal(stopped, 1);
});
