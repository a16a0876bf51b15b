// Where marks and names stand so that each can be read: marks at their things, names where no mark covers them.

const LETTER_WIDE = 0.58; // of its size, on average
const SOFT = 0.3; // a room's name on a piece of furniture can still be read
const MOST_COVERED = 0.4;

const box = (points) => [0, 1].flatMap((axis) => Math.min(...points.map((point) => point[axis])))
  .concat([0, 1].map((axis) => Math.max(...points.map((point) => point[axis]))));
const lap = ([a, b, c, d], [e, f, g, i]) => Math.max(0, Math.min(c, g) - Math.max(a, e)) * Math.max(0, Math.min(d, i) - Math.max(b, f));

class Labels {
  // `letter`: how many metres a pixel of a letter is.
  constructor(letter) {
    this.letter = letter;
    this.marks = [];
    this.taken = [];
  }

  // A mark stands at its thing, or as near as other marks leave room.
  mark(at) {
    const r = 9 * this.letter;
    const ring = (n, far) => [at[0] + far * Math.cos((n * Math.PI) / 4), at[1] + far * Math.sin((n * Math.PI) / 4)];
    const spots = [at, ...[2.2, 3.6].flatMap((times) => [...Array(8).keys()].map((n) => ring(n, times * r)))];
    const free = ([x, y]) => this.marks.every(([a, b]) => Math.hypot(a - x, b - y) > 2 * r);
    const [x, y] = spots.find(free) ?? at;
    this.marks.push([x, y]);
    this.keep([x - r, y - r, x + r, y + r]);
    return [x, y];
  }

  keep(part, weight = 1) {
    this.taken.push({ part, weight });
  }

  clearSoft() {
    this.taken = this.taken.filter(({ weight }) => weight === 1);
  }

  // What a text covers whose line begins at this height, its middle at this place.
  covers([x, y], text, size) {
    const [half, tall] = [(text.length * LETTER_WIDE * size * this.letter) / 2, size * this.letter];
    return [x - half, y - 0.25 * tall, x + half, y + 0.85 * tall];
  }

  // The first of the places where the text covers least.
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

  // In a room: its middle, else where the whole name is inside, the nearest first; in a narrow room where its middle is.
  inRoom(outline, text, size) {
    const [left, low, right, high] = box(outline);
    const [x, y] = middle(outline);
    const [half, tall] = [(text.length * LETTER_WIDE * size * this.letter) / 2, size * this.letter];
    const across = steps(left + half, right - half, x);
    const up = steps(low + 0.6 * tall, high - 1.2 * tall, y);
    const far = ([a, b]) => Math.hypot(a - x, b - y);
    const fits = (spot) => cornersOf(this.covers(spot, text, size)).every((corner) => inside(corner, outline));
    const spots = [[x, y], ...up.flatMap((b) => across.map((a) => [a, b]))].sort((one, other) => far(one) - far(other));
    const found = [fits, (spot) => inside(spot, outline)].map((good) => spots.filter(good)).find((good) => good.length);
    return this.words(found ?? [[x, y]], text, size).spot;
  }

  // Beside a thing: on it, then above, below, to the left and right. Nowhere when it would hide too much: a bigger plan
  // has room for it, and the list of things has its name.
  beside(part, text, size, on = true) {
    const [left, low, right, high] = part;
    const [x, y] = [(left + right) / 2, (low + high) / 2];
    const [half, tall] = [(text.length * LETTER_WIDE * size * this.letter) / 2, size * this.letter];
    const around = [[x, high + 0.5 * tall], [x, low - 1.1 * tall], [left - half, y], [right + half, y]];
    const places = on ? [[x, y - 0.3 * tall], [x, high - 1.1 * tall], [x, low + 0.5 * tall], ...around] : around;
    const { spot, covered } = this.words(places, text, size);
    return covered > MOST_COVERED ? null : spot;
  }
}

const cornersOf = ([left, low, right, high]) => [[left, low], [right, low], [right, high], [left, high]];
const steps = (from, to, other) => (to > from ? [...Array(13).keys()].map((n) => from + ((to - from) * n) / 12) : [other]);

function inside([x, y], outline) {
  let odd = false;
  outline.forEach(([ax, ay], n) => {
    const [bx, by] = outline[(n + 1) % outline.length];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) odd = !odd;
  });
  return odd;
}
