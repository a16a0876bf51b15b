// The bar's words: the pages that are there, a page's title, what is saved; and the page that an address shows.

import assert from "node:assert/strict";
import { test } from "node:test";

import { SAVED, around, savedState, titleOf } from "../../alarmlib/lab/extension/static/around.js";
import { placeOf } from "../../alarmlib/lab/extension/static/left_off.js";
import { pageAt, pageOf } from "../../alarmlib/lab/extension/static/turning.js";

const LISTED = ["00_start.ipynb", "01_survey.ipynb", "02_detectors.ipynb", "other/9.ipynb"];

test("the neighbours of a page are the listed ones that are there", () => {
  const there = ["mine.ipynb", "02_detectors.ipynb", "00_start.ipynb", "home.json"];
  assert.deepEqual(around("00_start.ipynb", LISTED, there), { number: 1, count: 2, back: null, next: "02_detectors.ipynb" });
  assert.deepEqual(around("02_detectors.ipynb", LISTED, there), { number: 2, count: 2, back: "00_start.ipynb", next: null });
});

test("in a folder they are those of that folder", () => {
  const there = ["01_survey.ipynb", "00_start.ipynb", "9.ipynb"];
  const found = around("a/b/01_survey.ipynb", LISTED, there);
  assert.deepEqual(found, { number: 2, count: 2, back: "a/b/00_start.ipynb", next: null });
  assert.equal(around("other/9.ipynb", LISTED, there).back, "other/01_survey.ipynb");
});

test("a page that is in no list has no number and no neighbours", () => {
  assert.deepEqual(around("x.ipynb", LISTED, ["00_start.ipynb"]), { number: 0, count: 1, back: null, next: null });
});

test("the title is the first heading of the first order, else the file's name", () => {
  assert.equal(titleOf(["text\n\n## Not this", "# Walk test\n\nmore", "# Later"], "10_test_walk.ipynb"), "Walk test");
  assert.equal(titleOf(["## Only a part"], "a/10_test_walk.ipynb"), "10_test_walk");
});

test("the worst of what forms say is told, and a stopped Python before all", () => {
  assert.equal(savedState([], true), "saved");
  assert.equal(savedState(["working", "wrong"], true), "wrong");
  assert.equal(savedState(["working", "late", "wrong"], true), "late");
  assert.equal(savedState([], false), "stopped");
  for (const state of ["saved", "working", "wrong", "late", "stopped"]) assert.ok(SAVED[state]);
});

test("addresses of pages are read, those of a second window and with spaces too", () => {
  assert.equal(pageAt("/doc/tree/a%20b/00_start.ipynb"), "a b/00_start.ipynb");
  assert.equal(pageAt("/x/doc/workspaces/auto-b/tree/00_start.ipynb"), "00_start.ipynb");
  assert.equal(pageAt("/lab"), null);
});

test("a link is a page's only on this server and to a notebook", () => {
  const base = "http://127.0.0.1:8888/";
  assert.equal(pageOf("http://127.0.0.1:8888/files/a%20b/x.ipynb", base), "a b/x.ipynb");
  assert.equal(pageOf("http://127.0.0.1:8888/doc/tree/x.ipynb", base), "x.ipynb");
  assert.equal(pageOf("http://127.0.0.1:8888/files/x.html", base), null);
  assert.equal(pageOf("http://127.0.0.1:9999/files/x.ipynb", base), null);
});

test("a place is the cell at the top of the view and how much of it is above", () => {
  assert.deepEqual(placeOf([{ top: -90, bottom: -10 }, { top: -10, bottom: 40.2 }]), { cell: 1, offset: 10 });
  assert.deepEqual(placeOf([{ top: 15, bottom: 40 }]), { cell: 0, offset: -15 });
  assert.deepEqual(placeOf([]), { cell: 0, offset: 0 });
});
