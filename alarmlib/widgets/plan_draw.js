// @ts-check
// The drawing of one storey: metres in, SVG out; outlines, hatching, letters, and no colour of its own.

import { s } from "./elements.js";
import { around, box, corners, holds, inSightOf, path, pixelOf, scaleLength } from "./geometry.js";
import { Labels, SOFT } from "./plan_labels.js";
import { describe, LISTED, ORDER, roomName, SIGNS } from "./plan_things.js";

export class PlanDrawing {
  // `key` makes ids unique on the page; the window is what is looked at: [left, low, right, high] in metres.
  constructor(key) {
    this.key = key;
    this.areas = s("g", { class: "areas", "aria-hidden": "true" });
    this.things = s("g");
    this.over = s("g", { class: "over", "aria-hidden": "true" });
    this.paper = s("g", { class: "paper", "aria-hidden": "true" });
    this.scale = s("g", { class: "scale", "aria-hidden": "true" });
    this.patterns = s("defs");
    this.svg = s("svg", { class: "plan", tabindex: 0, role: "group", "aria-label": "Plan", "aria-describedby": `${key}-how` },
      this.patterns, this.paper, this.areas, this.things, this.over, this.scale);
    this.nodes = new Map();
    this.look([-1, -1, 11, 8]);
  }

  // Metres that one pixel of the page shows: the whole window is in sight, in the middle of the drawing's box.
  get pixel() {
    return pixelOf(this.window, this.svg.clientWidth, this.svg.clientHeight);
  }

  // All that the box shows, in metres: the window and what lies beside it.
  get inSight() {
    return inSightOf(this.window, this.svg.clientWidth, this.svg.clientHeight);
  }

  shows(points) {
    return holds(this.inSight, points);
  }

  // Marks and letters keep their size on the screen, a little smaller in a narrow window.
  get letter() {
    return this.pixel * (this.svg.clientWidth < 500 ? 0.65 : 1);
  }

  look(window) {
    this.window = window;
    const [left, low, right, high] = window;
    this.svg.setAttribute("viewBox", `${left} ${-high} ${right - left} ${high - low}`);
  }

  draw(scene, chosen) {
    this.scene = scene;
    this.hatches();
    this.nodes.clear();
    this.findPlaces(scene);
    const focused = thingOf(document.activeElement);
    this.things.replaceChildren();
    for (const what of ORDER) for (const each of scene[LISTED[what]] ?? []) this.add(what, each, chosen);
    this.over.replaceChildren();
    for (const wall of scene.walls ?? []) this.over.append(s("path", { class: "shared", d: path(wall).replace("Z", "") }));
    this.showAreas(scene.devices ?? []);
    this.drawScale(scene.unit);
    if (focused) this.nodes.get(focused)?.focus({ preventScroll: true });
  }

  hatches() {
    const step = 7 * this.pixel;
    const lines = {
      sure: `M0 ${step}L${step} 0`,
      straight: `M0 0L${step} ${step}M0 ${step}L${step} 0`,
    };
    this.patterns.replaceChildren(...Object.entries(lines).map(([name, d]) =>
      s("pattern", { id: `${this.key}-${name}`, width: step, height: step, patternUnits: "userSpaceOnUse" }, s("path", { d, class: "hatch" }))));
  }

  showAreas(devices) {
    this.areas.replaceChildren();
    for (const device of devices) {
      for (const name of ["possible", "sure", "straight"]) {
        for (const outline of device[name] ?? []) {
          const style = name === "possible" ? null : `fill: url(#${this.key}-${name})`;
          this.areas.append(s("path", { class: `area ${name}`, d: path(outline), style }));
        }
      }
    }
  }

  add(what, each, chosen) {
    const thing = `${what}:${each.id}`;
    const parts = this.shapes(what, each);
    const wrong = each.problem ? `; not right: ${each.problem}` : "";
    const node = s("g", {
      class: `thing ${what}${each.problem ? " wrong" : ""}${thing === chosen ? " chosen" : ""}`,
      role: "button",
      tabindex: -1,
      "data-thing": thing,
      "aria-pressed": thing === chosen ? "true" : "false",
      "aria-label": `${describe(what, each)}${wrong}`,
    }, ...parts);
    this.nodes.set(thing, node);
    this.things.append(node);
  }

  // Marks find their places first, then the names of rooms, then those of what is in them.
  findPlaces(scene) {
    const labels = new Labels(this.letter);
    this.spots = new Map();
    const find = (what, spot) => (scene[LISTED[what]] ?? []).forEach((each) => this.spots.set(`${what}:${each.id}`, spot(each)));
    for (const what of ["opening", "passage", "device"]) find(what, ({ at }) => labels.mark(at));
    for (const { outline } of scene.furniture ?? []) labels.keep(box(outline), SOFT);
    find("room", (each) => labels.inRoom(each.outline, roomName(each), 12));
    labels.clearSoft();
    find("furniture", (each) => labels.beside(box(each.outline), each.name, 9));
    find("fixture", (each) => labels.beside(around(each.at, this.radius(each)), each.name, 9, false));
  }

  radius({ radius }) {
    return Math.max(radius, 5 * this.letter);
  }

  shapes(what, each) {
    const thing = `${what}:${each.id}`;
    const spot = this.spots.get(thing);
    if (what === "room") return [s("path", { class: "outline", d: path(each.outline) }), this.words(spot, roomName(each), each.problem)];
    if (what === "furniture") return [s("path", { class: "outline", d: path(each.outline) }), this.words(spot, each.name, each.problem, 9)];
    if (what === "fixture") {
      const [cx, cy] = [each.at[0], -each.at[1]];
      return [s("circle", { class: "outline", cx, cy, r: this.radius(each) }), this.words(spot, each.name, each.problem, 9)];
    }
    const wrong = each.problem ? "!" : "";
    if (what === "device") return [this.faces(each), this.mark(thing, each.at, `${each.mark}${wrong}`, false)];
    const line = each.line ? s("path", { class: `line ${each.kind ?? ""}`, d: path(each.line).replace("Z", "") }) : null;
    const sign = what === "opening" ? each.mark : SIGNS[each.kind] ?? "d";
    return [line, this.mark(thing, each.at, `${sign}${wrong}`, what === "opening")];
  }

  faces({ at, facing }) {
    if (facing === null || facing === undefined) return null;
    const turn = (facing * Math.PI) / 180;
    const far = 26 * this.letter;
    return s("path", { class: "faces", d: path([at, [at[0] + far * Math.cos(turn), at[1] + far * Math.sin(turn)]]).replace("Z", "") });
  }

  // A mark where room was found for it, with a stroke to the object that it belongs to.
  mark(thing, at, text, square) {
    const r = 9 * this.letter;
    const [x, y] = this.spots.get(thing);
    const far = Math.hypot(x - at[0], y - at[1]);
    const edge = at.map((part, axis) => part + (([x, y][axis] - part) * r) / far); // the mark that is there stays legible
    const stroke = far ? s("path", { d: `M${edge[0]} ${-edge[1]}L${x} ${-y}` }) : null;
    const frame = square
      ? s("rect", { class: "badge", x: x - r, y: -y - r, width: 2 * r, height: 2 * r })
      : s("circle", { class: "badge", cx: x, cy: -y, r });
    return s("g", {}, stroke, frame, s("text", { x, y: -y + 3.5 * this.letter, "font-size": 10 * this.letter, "text-anchor": "middle" }, text));
  }

  words(spot, text, problem, size = 12) {
    if (!spot) return null;
    const [x, y] = spot;
    return s("text", { x, y: -y, "font-size": size * this.letter, "text-anchor": "middle", class: "words" }, `${problem ? "! " : ""}${text}`);
  }

  drawScale(unit) {
    const shown = this.inSight;
    const { count, metres } = scaleLength(shown[2] - shown[0], unit);
    const [left, low] = [shown[0] + 14 * this.pixel, shown[1] + 12 * this.pixel];
    const end = left + metres;
    this.scale.replaceChildren(
      s("path", { d: `M${left} ${-low - 5 * this.pixel}V${-low}H${end}V${-low - 5 * this.pixel}` }),
      s("text", { x: (left + end) / 2, y: -low - 5 * this.pixel, "font-size": 11 * this.pixel, "text-anchor": "middle" }, `${count} ${unit}`));
  }

  // What is being drawn and isn't there yet: dashed, with a cross where the next corner would be.
  draft(points, cross, boxed) {
    const old = this.over.querySelector(".draft");
    const shape = boxed && points.length === 1 && cross ? corners(points[0], cross) : cross ? [...points, cross] : points;
    const r = 7 * this.pixel;
    const marks = points.map(([x, y]) => s("circle", { cx: x, cy: -y, r: r / 2 }));
    const here = cross ? s("path", { class: "cross", d: `M${cross[0] - r} ${-cross[1]}h${2 * r}M${cross[0]} ${-cross[1] - r}v${2 * r}` }) : null;
    const line = shape.length > 1 ? s("path", { class: "stroke", d: path(shape) }) : null;
    const made = s("g", { class: "draft" }, line, ...marks, here);
    if (old) old.replaceWith(made);
    else this.over.append(made);
  }

  // The measure of what the hand is drawing, on it; nothing takes it away.
  measured(at, size) {
    this.over.querySelector(".measured")?.remove();
    if (!at) return;
    const words = this.words([at[0], at[1] - 5 * this.pixel], size, "", 15);
    this.over.append(s("g", { class: "measured" }, words));
  }

  handles(each) {
    this.over.querySelector(".handles")?.remove();
    if (!each) return;
    const r = 6 * this.pixel;
    const knobs = (each.outline ?? []).map(([x, y], n) => s("rect", { x: x - r / 2, y: -y - r / 2, width: r, height: r, "data-corner": n }));
    if (each.facing !== undefined && each.at) {
      const turn = ((each.facing ?? 0) * Math.PI) / 180;
      const far = 34 * this.pixel;
      knobs.push(s("circle", { cx: each.at[0] + far * Math.cos(turn), cy: -each.at[1] - far * Math.sin(turn), r: r / 1.5, "data-turn": "1" }));
    }
    this.over.append(s("g", { class: "handles" }, ...knobs));
  }

  // Where on the plan, in metres, a pointer is: the browser itself says how it fitted the drawing into its box.
  place(event) {
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [x, -y];
  }
}

/** The name of the object that an element of the drawing shows. @param {Element | null} element */
const thingOf = (element) => (element instanceof SVGElement ? element.dataset.thing : undefined);
