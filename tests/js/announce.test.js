// What the one polite line of a page says.

import assert from "node:assert/strict";
import { test } from "node:test";

import { MOST_NAMED, toldOf } from "../../alarmlib/widgets/announce.js";

test("few parts are named, of many the number", () => {
  assert.equal(toldOf(["Progress"]), "Changed: Progress.");
  assert.equal(toldOf(["a", "b", "c"]), "Changed: a, b, c.");
  assert.equal(toldOf(["a", "b", "c", "d"]), "Changed: a, b, c and 1 more part of this page.");
  assert.equal(toldOf(["a", "b", "c", "d", "e"]), "Changed: a, b, c and 2 more parts of this page.");
  assert.equal(MOST_NAMED, 3);
});
