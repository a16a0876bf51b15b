// @ts-check
// Where marks and names are put so that each can be read: marks at their objects, names where no mark covers them.

import { box, cornersOf, inside, lap, middle, steps } from "./geometry.js";

const LETTER_WIDE = 0.58; // of its size, on average
export const SOFT = 0.3; // a room's name on a piece of furniture can still be read
const MOST_COVERED = 0.4;

/** @typedef {import("./geometry.js").Point} Point */
/** @typedef {import("./geometry.js").Box} Box */

export class Labels {
  /** @param {number} letter how many metres a pixel of a letter is */
  constructor(letter) {
    this.letter = letter;
    /** @type {Point[]} */
    this.marks = [];
    /** @type {{ part: Box, weight: number }[]} */
    this.taken = [];
  }

  /** A mark is put at its object, or as near as other marks leave room. @param {Point} at @returns {Point} */
  mark(at) {
    const r = 9 * this.letter;
    /** @type {(n: number, far: number) => Point} */
    const ring = (n, far) => [at[0] + far * Math.cos((n * Math.PI) / 4), at[1] + far * Math.sin((n * Math.PI) / 4)];
    const spots = [at, ...[2.2, 3.6].flatMap((times) => [...Array(8).keys()].map((n) => ring(n, times * r)))];
    /** @param {Point} spot */
    const free = ([x, y]) => this.marks.every(([a, b]) => Math.hypot(a - x, b - y) > 2 * r);
    const [x, y] = spots.find(free) ?? at;
    this.marks.push([x, y]);
    this.keep([x - r, y - r, x + r, y + r]);
    return [x, y];
  }

  /** What is covered already; what may be covered weighs less than 1. @param {Box} part @param {number} weight */
  keep(part, weight = 1) {
    this.taken.push({ part, weight });
  }

  clearSoft() {
    this.taken = this.taken.filter(({ weight }) => weight === 1);
  }

  /** What a text covers whose line begins at this height, its middle at this place. @param {Point} spot @param {string} text @param {number} size @returns {Box} */
  covers([x, y], text, size) {
    const [half, tall] = [(text.length * LETTER_WIDE * size * this.letter) / 2, size * this.letter];
    return [x - half, y - 0.25 * tall, x + half, y + 0.85 * tall];
  }

  /** The first of the places where the text covers least. @param {Point[]} places @param {string} text @param {number} size */
  words(places, text, size) {
    let [best, least] = [places[0], Infinity];
    for (const place of places) {
      const part = this.covers(place, text, size);
      const covered = this.taken.reduce((sum, each) => sum + lap(part, each.part) * each.weight, 0);
      if (covered < least - 1e-9) [best, least] = [place, covered];
      if (!least) break;
    }
    const part = this.covers(best, text, size);
    this.keep(part);
    return { spot: best, covered: least / lap(part, part) };
  }

  /** In a room: its middle, else where the whole name is inside, the nearest first; in a narrow room where its middle is. @param {Point[]} outline @param {string} text @param {number} size */
  inRoom(outline, text, size) {
    const [left, low, right, high] = box(outline);
    const [x, y] = middle(outline);
    const [half, tall] = [(text.length * LETTER_WIDE * size * this.letter) / 2, size * this.letter];
    const across = steps(left + half, right - half, x);
    const up = steps(low + 0.6 * tall, high - 1.2 * tall, y);
    /** @param {Point} spot */
    const far = ([a, b]) => Math.hypot(a - x, b - y);
    /** @param {Point} spot */
    const fits = (spot) => cornersOf(this.covers(spot, text, size)).every((corner) => inside(corner, outline));
    /** @type {Point[]} */
    const spots = [[x, y], ...up.flatMap((b) => across.map((a) => /** @type {Point} */ ([a, b])))];
    spots.sort((one, other) => far(one) - far(other));
    const found = [fits, (/** @type {Point} */ spot) => inside(spot, outline)].map((good) => spots.filter(good)).find((good) => good.length);
    return this.words(found ?? [[x, y]], text, size).spot;
  }

  /**
   * Beside an object: on it, then above, below, to the left and right. Nowhere when it would hide too much: a bigger plan
   * has room for it, and the list of objects has its name.
   * @param {Box} part @param {string} text @param {number} size @param {boolean} on @returns {Point | null}
   */
  beside(part, text, size, on = true) {
    const [left, low, right, high] = part;
    const [x, y] = [(left + right) / 2, (low + high) / 2];
    const [half, tall] = [(text.length * LETTER_WIDE * size * this.letter) / 2, size * this.letter];
    /** @type {Point[]} */
    const around = [[x, high + 0.5 * tall], [x, low - 1.1 * tall], [left - half, y], [right + half, y]];
    /** @type {Point[]} */
    const places = on ? [[x, y - 0.3 * tall], [x, high - 1.1 * tall], [x, low + 0.5 * tall], ...around] : around;
    const { spot, covered } = this.words(places, text, size);
    return covered > MOST_COVERED ? null : spot;
  }
}
