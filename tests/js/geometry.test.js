// Points, boxes, outlines and windows: each against a figure worked out by hand, a limit, or another way of counting.

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  around, box, corners, cornersOf, holds, inSightOf, inside, lap, middle, outlineOf, panned, path, pixelOf, scaleLength, stepped, steps, told, zoomed,
} from "../../alarmlib/widgets/geometry.js";

const L_SHAPE = [[0, 0], [4, 0], [4, 2], [2, 2], [2, 4], [0, 4]];

test("an outline is drawn with y downwards and closed", () => {
  assert.equal(path([[0, 0], [4, 0], [4, 3]]), "M0 0L4 0L4 -3Z");
});

test("the middle is the mean of the corners", () => {
  assert.deepEqual(middle([[0, 0], [4, 0], [4, 2], [0, 2]]), [2, 1]);
  assert.deepEqual(middle([[1, 2]]), [1, 2]);
});

test("the smallest box holds all corners and touches four sides", () => {
  assert.deepEqual(box(L_SHAPE), [0, 0, 4, 4]);
  assert.deepEqual(box([[3, -2], [-1, 5]]), [-1, -2, 3, 5]);
});

test("two boxes share the area that they share", () => {
  assert.equal(lap([0, 0, 2, 2], [1, 1, 3, 4]), 1);
  assert.equal(lap([0, 0, 2, 2], [2, 0, 4, 2]), 0, "an edge is no area");
  assert.equal(lap([0, 0, 2, 2], [5, 5, 6, 6]), 0);
  assert.equal(lap([0, 0, 2, 3], [-9, -9, 9, 9]), 6, "one inside the other");
});

test("a circle's box is as wide as the circle", () => {
  assert.deepEqual(around([1, 2], 0.5), [0.5, 1.5, 1.5, 2.5]);
});

test("two opposite corners make the same rectangle whichever comes first", () => {
  const sorted = (points) => points.map(String).sort();
  assert.deepEqual(sorted(corners([0, 0], [4, 3])), sorted(corners([4, 3], [0, 0])));
  assert.deepEqual(cornersOf([0, 0, 4, 3]), [[0, 0], [4, 0], [4, 3], [0, 3]]);
});

test("a box that was drawn by two corners has four; any other drawing keeps its own", () => {
  assert.equal(outlineOf({ by: "box", points: [[0, 0], [1, 1]] }).length, 4);
  assert.equal(outlineOf({ by: "box", points: [[0, 0]] }).length, 1);
  assert.deepEqual(outlineOf({ by: "corners", points: [[0, 0], [1, 1]] }), [[0, 0], [1, 1]]);
});

test("steps go from one end to the other, evenly, and stay where there is no way between", () => {
  const found = steps(0, 12, 99);
  assert.deepEqual(found, [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  assert.deepEqual(steps(3, 3, 7), [7]);
  assert.deepEqual(steps(4, 3, 7), [7]);
});

test("a place in the notch of an L is outside, although it is inside the box round it", () => {
  assert.equal(inside([3, 3], L_SHAPE), false);
  assert.equal(inside([1, 3], L_SHAPE), true);
  assert.equal(inside([3, 1], L_SHAPE), true);
  assert.equal(inside([-0.1, 1], L_SHAPE), false);
});

test("inside agrees with the sum of angles at every place of a grid that is not on the outline", () => {
  // The winding number: the angles under which the sides are seen add up to a full turn from inside, to none from outside.
  const turns = ([x, y]) => Math.abs(L_SHAPE.reduce((sum, [ax, ay], n) => {
    const [bx, by] = L_SHAPE[(n + 1) % L_SHAPE.length];
    return sum + Math.atan2((ax - x) * (by - y) - (ay - y) * (bx - x), (ax - x) * (bx - x) + (ay - y) * (by - y));
  }, 0)) / (2 * Math.PI);
  let counted = 0;
  for (let x = -0.95; x < 5; x += 0.5) {
    for (let y = -0.95; y < 5; y += 0.5) {
      assert.equal(inside([x, y], L_SHAPE), Math.round(turns([x, y])) === 1, `${x}, ${y}`);
      counted += 1;
    }
  }
  assert.equal(counted, 144);
});

test("a pixel stands for the longer of the two ways in which the window must fit", () => {
  assert.equal(pixelOf([0, 0, 12, 6], 600, 600), 0.02);
  assert.equal(pixelOf([0, 0, 6, 12], 600, 600), 0.02);
  assert.equal(pixelOf([0, 0, 12.8, 6], 0, 0), 0.02, "not laid out yet: 640 pixels wide");
});

test("what is in sight holds the whole window, has its middle and the shape of the box of pixels", () => {
  const seen = inSightOf([0, 0, 12, 6], 600, 600);
  assert.deepEqual(seen, [0, -3, 12, 9]);
  assert.ok(holds(seen, cornersOf([0, 0, 12, 6])));
  assert.deepEqual(inSightOf([0, 0, 12, 6], 0, 0), [0, 0, 12, 6]);
});

test("a box holds its own corners and nothing a hair beyond", () => {
  assert.ok(holds([0, 0, 4, 3], cornersOf([0, 0, 4, 3])));
  assert.ok(!holds([0, 0, 4, 3], [[1, 1], [4.001, 1]]));
  assert.ok(!holds([0, 0, 4, 3], [[1, -0.001]]));
});

test("zooming in and out again gives the window of before", () => {
  const before = [0, 0, 10, 8];
  const closer = zoomed(before, 0.5, [5, 4]);
  assert.deepEqual(closer, [2.5, 2, 7.5, 6]);
  assert.deepEqual(zoomed(closer, 2, [5, 4]), before);
  assert.deepEqual(panned(before, [1, -2]), [1, -2, 11, 6]);
});

test("a place is told in the home's own unit to three decimals", () => {
  assert.equal(told([1.5, 3], "m"), "1.5, 3");
  assert.equal(told([0.3048, 3.048], "ft"), "1, 10", "a foot is 0.3048 m exactly (international yard and pound agreement, 1959)");
  assert.equal(told([1 / 3, -2 / 3], "m"), "0.333, -0.667");
});

test("steps of the cross end on whole millimetres, also after many", () => {
  let at = [0, 0];
  for (let n = 0; n < 1000; n += 1) at = stepped(at, [0.1, -0.01]);
  assert.deepEqual(at, [100, -10], "adding 0.1 a thousand times in floating point alone gives 99.99999999999861");
});

test("the scale is the longest round length within a third of what is seen", () => {
  assert.deepEqual(scaleLength(12, "m"), { count: 2, metres: 2 });
  assert.deepEqual(scaleLength(40, "m"), { count: 10, metres: 10 });
  assert.deepEqual(scaleLength(1, "m"), { count: 1, metres: 1 }, "never none");
  assert.equal(scaleLength(12, "ft").count, 10);
});
