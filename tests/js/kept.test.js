// Unsaved texts, with a tab's storage and without one.

import assert from "node:assert/strict";
import { afterEach, beforeEach, test } from "node:test";

import { kept, placeNow } from "../../alarmlib/widgets/kept.js";

const storage = (texts, refuses = false) => ({
  getItem: (key) => texts.get(key) ?? null,
  setItem: (key, text) => {
    if (refuses) throw new Error("full");
    texts.set(key, text);
  },
});
const given = (value) => Object.defineProperty(globalThis, "sessionStorage", { value, configurable: true, writable: true });

beforeEach(() => kept.memory.clear());
afterEach(() => Reflect.deleteProperty(globalThis, "sessionStorage"));

test("an entry is there after a reload of the page, and gone once it was saved", () => {
  const texts = new Map();
  given(storage(texts));
  kept.put("rooms", "hall/name", { text: "Hal" });
  kept.memory.clear();
  assert.deepEqual(kept.load("rooms"), { "hall/name": { text: "Hal" } });
  assert.deepEqual(kept.load("zones"), {}, "another form has its own");
  kept.put("rooms", "hall/name", null);
  kept.memory.clear();
  assert.deepEqual(kept.load("rooms"), {});
});

test("without a storage, or with a full one, the page's memory keeps them", () => {
  kept.put("rooms", "a", { text: "1" });
  assert.deepEqual(kept.load("rooms"), { a: { text: "1" } });
  given(storage(new Map(), true));
  kept.put("rooms", "b", { text: "2" });
  assert.deepEqual(Object.keys(kept.load("rooms")), ["a", "b"]);
});

test("what is stored but cannot be read is no entry", () => {
  given(storage(new Map([["alarm:rooms", "{half"]])));
  assert.deepEqual(kept.load("rooms"), {});
});

test("what was typed under a field's old name is at its new one; a row called so keeps its name", () => {
  const renamed = { unit: "control_unit", quiet_time_s: "sleep_s" };
  const on = (...ids) => (id) => ids.includes(id);
  assert.equal(placeNow("unit/times/entry_s", on("control_unit/times/entry_s"), renamed), "control_unit/times/entry_s");
  assert.equal(placeNow("unit/quiet_time_s", on("unit/sleep_s"), renamed), "unit/sleep_s", "a device called unit");
  assert.equal(placeNow("hall/name", on("hall/name"), renamed), "hall/name");
});
