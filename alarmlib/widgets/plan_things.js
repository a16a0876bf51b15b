// @ts-check
// What is on a plan, in words: kinds, lists, signs, names.

/** @typedef {"room" | "opening" | "passage" | "furniture" | "fixture" | "device"} What */
/** @typedef {import("./geometry.js").Point} Point */
/**
 * An object of the plan as Python tells it: with an outline and its size in words, or at a place.
 * @typedef {{ id: string, name: string, mark: string, kind?: string, problem?: string, at?: Point, outline?: Point[], size?: string, facing?: number | null }} Thing
 */

/** @type {Record<What, string>} */
export const WORDS = { room: "Room", opening: "Way in", passage: "Inside doorway", furniture: "Furniture", fixture: "Fixture", device: "Device" };
/** The order in which they are drawn and listed. @type {What[]} */
export const ORDER = ["room", "furniture", "opening", "passage", "fixture", "device"];
/** The list of a scene that holds them. @type {Record<What, string>} */
export const LISTED = { room: "rooms", furniture: "furniture", opening: "openings", passage: "passages", fixture: "fixtures", device: "devices" };
/** Any other way inside is a door. @type {Record<string, string>} */
export const SIGNS = { stairs: "≡", hatch: "⌗", doorway: "o", outside: "y" };

/** @param {{ mark?: string, name: string }} room */
export const roomName = ({ mark, name }) => `${mark ? `${mark} ` : ""}${name}`;

/** An object as a screen reader reads it. @param {What} what @param {Thing} each */
export function describe(what, each) {
  const turned = what === "device" && each.facing !== null ? `, faces ${each.facing}°` : "";
  return `${WORDS[what]} ${each.mark ? `${each.mark}, ` : ""}${each.name}, ${whereabouts(each)}${turned}`;
}

/** @param {Thing} each */
function whereabouts({ at, outline, size }) {
  const [x, y] = at ?? outline?.[0] ?? [0, 0];
  const place = `${toHundredth(x)}, ${toHundredth(y)}`;
  return at ? `at ${place}` : `${size}, corner at ${place}`;
}

/** @param {number} value */
const toHundredth = (value) => Math.round(value * 100) / 100;
