// @ts-check
// Points, boxes, outlines and windows on a plan: metres, x to the right and y up.

/** @typedef {[number, number]} Point */
/** @typedef {[number, number, number, number]} Box left, low, right, high; a window is what of the plan is looked at */

const METRES_A_FOOT = 0.3048;

/** An outline as an SVG path, where y goes down. @param {Point[]} points */
export const path = (points) => `${points.map(([x, y], n) => `${n ? "L" : "M"}${x} ${-y}`).join("")}Z`;

/** The mean of the corners. @param {Point[]} points @returns {Point} */
export const middle = (points) => [mean(points.map(([x]) => x)), mean(points.map(([, y]) => y))];

/** @param {number[]} values */
const mean = (values) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** The smallest box round the points. @param {Point[]} points @returns {Box} */
export function box(points) {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** The area that two boxes share. @param {Box} one @param {Box} other */
export const lap = ([a, b, c, d], [e, f, g, i]) =>
  Math.max(0, Math.min(c, g) - Math.max(a, e)) * Math.max(0, Math.min(d, i) - Math.max(b, f));

/** The box round a circle. @param {Point} middle @param {number} r @returns {Box} */
export const around = ([x, y], r) => [x - r, y - r, x + r, y + r];

/** A rectangle from two opposite corners. @param {Point} one @param {Point} other @returns {Point[]} */
export const corners = ([a, b], [c, d]) => [[a, b], [c, b], [c, d], [a, d]];

/** @param {Box} box @returns {Point[]} */
export const cornersOf = ([left, low, right, high]) => corners([left, low], [right, high]);

/** Thirteen places from one to the other, or the third one where there is no way between. @param {number} from @param {number} to @param {number} other */
export const steps = (from, to, other) =>
  to > from ? [...Array(13).keys()].map((n) => from + ((to - from) * n) / 12) : [other];

/** Whether a point is inside an outline: a ray from it crosses the outline an odd number of times. @param {Point} point @param {Point[]} outline */
export function inside([x, y], outline) {
  let odd = false;
  outline.forEach(([ax, ay], n) => {
    const [bx, by] = outline[(n + 1) % outline.length];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) odd = !odd;
  });
  return odd;
}

/** The outline of a drawing that was sent. @param {{ by: string, points: Point[] }} stroke @returns {Point[]} */
export const outlineOf = ({ by, points }) => (by === "box" && points.length === 2 ? corners(points[0], points[1]) : points);

/** Metres that a pixel shows when the whole window is in sight of a box of so many pixels. @param {Box} window @param {number} wide @param {number} tall */
export const pixelOf = ([left, low, right, high], wide, tall) =>
  wide && tall ? Math.max((right - left) / wide, (high - low) / tall) : (right - left) / 640;

/** All that the box of pixels shows: the window, in its middle, and what lies beside it. @param {Box} window @param {number} wide @param {number} tall @returns {Box} */
export function inSightOf(window, wide, tall) {
  const pixel = pixelOf(window, wide, tall);
  return wide && tall ? windowAt(middle(cornersOf(window)), wide * pixel, tall * pixel) : window;
}

/** Whether all points are in a box, its edge too. @param {Box} box @param {Point[]} points */
export const holds = ([left, low, right, high], points) =>
  points.every(([x, y]) => x >= left && x <= right && y >= low && y <= high);

/** @param {Point} middle @param {number} wide @param {number} tall @returns {Box} */
const windowAt = ([x, y], wide, tall) => [x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2];

/** A window of `by` times the size with this place in its middle. @param {Box} window @param {number} by @param {Point} place @returns {Box} */
export const zoomed = ([left, low, right, high], by, place) => windowAt(place, (right - left) * by, (high - low) * by);

/** @param {Box} window @param {Point} by @returns {Box} */
export const panned = ([left, low, right, high], [x, y]) => [left + x, low + y, right + x, high + y];

/** A place as it is typed in the home's own unit: metres or feet to three decimals. @param {Point} point @param {string} unit */
export function told(point, unit) {
  const metres = unit === "ft" ? METRES_A_FOOT : 1;
  return point.map((part) => toThousandth(part / metres)).join(", ");
}

/** The place that a step leads to, to the millimetre. @param {Point} from @param {Point} step @returns {Point} */
export const stepped = (from, step) => [toThousandth(from[0] + step[0]), toThousandth(from[1] + step[1])];

/** @param {number} value */
const toThousandth = (value) => Math.round(value * 1000) / 1000;

/** The length of the drawn scale in its unit, metres or feet: the longest round one within a third of what is seen. @param {number} seen metres @param {string} unit */
export function scaleLength(seen, unit) {
  const metres = unit === "ft" ? METRES_A_FOOT : 1;
  const count = [1, 2, 5, 10].filter((n) => n * metres < seen / 3).pop() ?? 1;
  return { count, metres: count * metres };
}
