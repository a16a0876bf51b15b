// Places of marks and names: none on another while there is room, all of a name inside its room.

import assert from "node:assert/strict";
import { test } from "node:test";

import { holds, inside, lap } from "../../alarmlib/widgets/geometry.js";
import { Labels, SOFT } from "../../alarmlib/widgets/plan_labels.js";

const LETTER = 0.02; // metres a pixel
const ROOM = [[0, 0], [6, 0], [6, 4], [0, 4]];
const cornersOf = ([left, low, right, high]) => [[left, low], [right, low], [right, high], [left, high]];

test("a mark stands at its thing while the place is free", () => {
  assert.deepEqual(new Labels(LETTER).mark([1, 2]), [1, 2]);
});

// Eight places on each of two rings, of 2.2 and 3.6 radii. Neighbours on the first are 2 × 2.2 × sin 22.5° = 1.7 radii apart:
// every other one is used. On the second those in line with them are 1.4 radii away: again every other one.
test("nine marks at one place do not touch each other", () => {
  const labels = new Labels(LETTER);
  const marks = Array.from({ length: 9 }, () => labels.mark([1, 2]));
  const pairs = marks.flatMap((one, n) => marks.slice(n + 1).map((other) => Math.hypot(one[0] - other[0], one[1] - other[1])));
  assert.equal(pairs.length, 36);
  assert.ok(Math.min(...pairs) > 2 * 9 * LETTER, "two radii of 9 pixels");
});

test("a mark that finds no free place stands at its thing", () => {
  const labels = new Labels(LETTER);
  for (let n = 0; n < 9; n += 1) labels.mark([1, 2]);
  assert.deepEqual(labels.mark([1, 2]), [1, 2]);
});

test("a name goes to the middle of an empty room", () => {
  assert.deepEqual(new Labels(LETTER).inRoom(ROOM, "Kitchen", 12), [3, 2]);
});

test("a name leaves a mark in the middle free and stays inside its room", () => {
  const labels = new Labels(LETTER);
  labels.mark([3, 2]);
  const mark = labels.taken[0].part;
  const spot = labels.inRoom(ROOM, "Kitchen", 12);
  const covered = labels.covers(spot, "Kitchen", 12);
  assert.equal(lap(covered, mark), 0);
  assert.ok(holds([0, 0, 6, 4], cornersOf(covered)));
});

test("the name of an L-shaped room, whose middle may be outside, is inside it", () => {
  const outline = [[0, 0], [9, 0], [9, 1], [1, 1], [1, 9], [0, 9]];
  assert.ok(inside(new Labels(LETTER).inRoom(outline, "Hall", 12), outline));
});

test("a name on furniture is better than one on a mark, and furniture can be forgotten", () => {
  const labels = new Labels(LETTER);
  labels.keep([0, 0, 6, 4], SOFT);
  labels.keep([2, 1, 4, 3]);
  const { spot, covered } = labels.words([[3, 2], [1, 0.5]], "Sofa", 9);
  assert.deepEqual(spot, [1, 0.5]);
  assert.ok(covered > 0 && covered <= SOFT + 1e-9);
  labels.clearSoft();
  assert.ok(labels.taken.every(({ weight }) => weight === 1));
});

test("what would hide too much has no name on the plan", () => {
  const labels = new Labels(LETTER);
  assert.notEqual(labels.beside([1, 1, 2, 2], "Desk", 9), null);
  labels.keep([-50, -50, 50, 50]);
  assert.equal(labels.beside([1, 1, 2, 2], "Desk", 9), null);
});
