// What a screen reader says of an object.

import assert from "node:assert/strict";
import { test } from "node:test";

import { LISTED, ORDER, WORDS, describe, roomName } from "../../alarmlib/widgets/plan_things.js";

test("every kind that is drawn has a word and a list", () => {
  assert.deepEqual([...ORDER].sort(), Object.keys(WORDS).sort());
  assert.deepEqual([...ORDER].sort(), Object.keys(LISTED).sort());
});

test("a room is told by its name, size and first corner", () => {
  const room = { id: "r", name: "Hall", mark: "", size: "4 × 2.5 m", outline: [[0.333333, 1], [4, 1], [4, 3.5]] };
  assert.equal(describe("room", room), "Room Hall, 4 × 2.5 m, corner at 0.33, 1");
});

test("a device is told with where it faces, also when that is 0 degrees, and without when it faces nowhere", () => {
  const device = { id: "d", name: "Motion detector", mark: "M", at: [1, 2.005] };
  assert.equal(describe("device", { ...device, facing: 0 }), "Device M, Motion detector, at 1, 2.01, faces 0°");
  assert.equal(describe("device", { ...device, facing: null }), "Device M, Motion detector, at 1, 2.01");
});

test("a room's own mark comes before its name", () => {
  assert.equal(roomName({ mark: "!", name: "Hall" }), "! Hall");
  assert.equal(roomName({ mark: "", name: "Hall" }), "Hall");
});
