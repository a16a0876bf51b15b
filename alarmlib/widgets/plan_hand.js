// @ts-check
// Hand and keys on the plan: drafts, dragging, nudging, zooming. What they mean is asked of Python.

import { outlineOf, stepped } from "./geometry.js";

const MOVED_PX = 4;
const STEP_M = 0.1;
const FINE_M = 0.01;
const COARSE_M = 1;

/** @typedef {import("./geometry.js").Point} Point */
/**
 * What the hand holds down: where it began, on the plan and on the page, and how it goes on.
 * @typedef {{ at: Point, x: number, y: number, how: string, far?: boolean, thing?: string, n?: number, deg?: number, paper?: Point }} Drag
 */

export class PlanHand {
  constructor(view) {
    this.view = view;
    this.drawing = view.drawing;
    this.points = [];
    this.cross = null;
    /** @type {Drag | null} */
    this.drag = null;
    this.refused = [];
    const { svg } = this.drawing;
    svg.addEventListener("pointerdown", (event) => this.down(event));
    svg.addEventListener("pointermove", (event) => this.moved(event));
    svg.addEventListener("pointerup", (event) => this.up(event));
    svg.addEventListener("pointercancel", () => this.letGo());
    this.escapes = (event) => this.escaped(event);
    svg.addEventListener("keydown", (event) => this.key(event));
    svg.addEventListener("click", (event) => this.clicked(event));
  }

  get tool() {
    return this.view.tool;
  }

  down(event) {
    if (event.button !== 0) return;
    this.drawing.svg.setPointerCapture(event.pointerId);
    this.drawing.svg.focus({ preventScroll: true }); // the keys go on where the hand points: Delete, arrows, Escape
    document.addEventListener("keydown", this.escapes, true);
    const at = this.drawing.place(event);
    const from = { at, x: event.clientX, y: event.clientY };
    const { corner, turn } = event.target.dataset;
    const thing = event.target.closest("[data-thing]")?.dataset.thing;
    if (this.tool) this.drag = { ...from, how: "draw" };
    else if (this.view.paper.moving) this.drag = { ...from, how: "paper", paper: this.view.paper.at };
    else if (corner !== undefined) this.drag = { ...from, how: "corner", n: Number(corner) };
    else if (turn) this.drag = { ...from, how: "turn" };
    else if (thing) this.drag = { ...from, how: "thing", thing };
    else this.drag = { ...from, how: "pan" };
    event.preventDefault();
  }

  moved(event) {
    const at = this.drawing.place(event);
    if (this.tool && !this.drag) return this.draft(at);
    if (!this.drag) return undefined;
    const by = [at[0] - this.drag.at[0], at[1] - this.drag.at[1]];
    this.drag.far = this.drag.far || Math.hypot(event.clientX - this.drag.x, event.clientY - this.drag.y) > MOVED_PX;
    const shown = { draw: "stretching", thing: "dragging", corner: "bending", turn: "turning", paper: "sliding" };
    return this[shown[this.drag.how]]?.(at, by);
  }

  // Escape while the hand is down: nothing comes of it, and the tool stays.
  escaped(event) {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    this.letGo();
    this.view.redraw("Nothing was changed.");
  }

  letGo() {
    const drag = this.ended();
    if (drag?.paper) this.view.paper.at = drag.paper;
    this.cross = null;
    this.view.drawPlan();
  }

  ended() {
    const { drag } = this;
    this.drag = null;
    document.removeEventListener("keydown", this.escapes, true);
    this.view.looks.stop();
    this.unmeasured();
    return drag;
  }

  measure(question) {
    this.view.measures.want({ kind: "measure", ...question });
  }

  unmeasured() {
    this.view.measures.stop();
    this.drawing.measured(null);
  }

  // A click without a pointer, as a screen reader makes it, chooses an object.
  clicked(event) {
    const thing = event.target.closest("[data-thing]")?.dataset.thing;
    if (event.detail === 0 && thing && !this.tool) this.view.choose(thing);
  }

  show(points, cross) {
    this.drawing.draft(points, cross, this.tool?.by === "box");
  }

  // After the plan was drawn again: what is being drawn, else what was refused.
  showAgain() {
    const sent = this.view.sent.at(-1);
    if (this.points.length) this.show(this.points, this.cross);
    else if (this.refused.length || sent) this.drawing.draft(this.refused.length ? this.refused : outlineOf(sent), null, false);
  }

  refuse(stroke) {
    this.points = [];
    this.refused = outlineOf(stroke);
    this.view.offerText(this.refused);
    this.showAgain();
  }

  draft(cross) {
    this.cross = cross;
    if ((this.view.sent.length || this.refused.length) && !this.points.length) return;
    this.show(this.points, cross);
    if (this.points.length) this.measure(this.view.stroke([...this.points, cross]));
  }

  // What is shown while the hand moves.
  stretching(at) {
    const points = this.tool.by === "box" && this.drag.far ? [this.drag.at] : this.points;
    this.show(points, at);
    if (points.length) this.measure(this.view.stroke([...points, at]));
  }

  dragging(at, by) {
    if (!this.drag.far) return;
    this.drawing.nodes.get(this.drag.thing)?.setAttribute("transform", `translate(${by[0]} ${-by[1]})`);
    const device = this.view.device(this.drag.thing);
    if (device) this.view.lookFrom(this.drag.thing, { at: [device.at[0] + by[0], device.at[1] + by[1]] });
  }

  bending(at) {
    const each = this.view.chosenThing;
    if (!each?.outline) return;
    this.show(each.outline.map((corner, n) => (n === this.drag.n ? at : corner)), null);
    this.measure({ thing: this.view.chosen, n: this.drag.n, to: at });
  }

  turning(at) {
    const device = this.view.device(this.view.chosen);
    if (!device) return;
    this.drag.deg = (Math.atan2(at[1] - device.at[1], at[0] - device.at[0]) * 180) / Math.PI;
    this.view.lookFrom(this.view.chosen, { at: device.at, facing: this.drag.deg });
  }

  sliding(at, by) {
    this.view.paper.slide(by);
    this.drag.at = at;
  }

  up(event) {
    const drag = this.ended();
    if (!drag) return;
    const at = this.drawing.place(event);
    const by = [at[0] - drag.at[0], at[1] - drag.at[1]];
    if (drag.how === "draw") this.drawn(drag, at);
    else if (drag.how === "thing") this.let(drag, by);
    else if (drag.how === "corner" && drag.far) this.view.ask({ kind: "corner", thing: this.view.chosen, n: drag.n, to: at });
    else if (drag.how === "turn" && drag.deg !== undefined) this.view.ask({ kind: "turn", thing: this.view.chosen, deg: drag.deg });
    else if (drag.how === "pan" && drag.far) this.view.pan([-by[0], -by[1]]);
    else if (drag.how === "pan") this.view.choose("");
  }

  let(drag, by) {
    if (drag.far) this.view.ask({ kind: "move", thing: drag.thing, by });
    else this.view.choose(drag.thing);
  }

  drawn(drag, at) {
    const { by } = this.tool;
    if (by === "box" && drag.far) {
      if (this.view.late) return;
      this.points = [drag.at, at];
      this.finish();
    } else this.add(at);
  }

  // One more corner or the one place that the tool asks for. While Python is late nothing is added; a second click on
  // a place that is on its way is a double click.
  add(at) {
    const twice = this.tool.by === "point" && this.view.sent.some(({ points: [[x, y]] }) => Math.hypot(at[0] - x, at[1] - y) < MOVED_PX * this.drawing.pixel);
    if (this.view.late || twice) return undefined;
    this.refused = [];
    const near = this.points.length > 2 && Math.hypot(at[0] - this.points[0][0], at[1] - this.points[0][1]) < 10 * this.drawing.pixel;
    if (this.tool.by === "corners" && near) return this.finish();
    this.points.push(at);
    if (this.tool.by === "point" || (this.tool.by === "box" && this.points.length === 2)) return this.finish();
    this.show(this.points, this.cross);
    const left = this.tool.by === "box" ? "Now the opposite corner." : `Corner ${this.points.length}. Enter, or the first corner again, ends it.`;
    return this.view.redraw(left);
  }

  // Sent at once, whatever is on its way: Python takes them in order. A refused drawing stays drawn, dashed, and its
  // corners stand in the box beside the tools to be mended.
  finish() {
    this.unmeasured();
    const stroke = this.view.stroke(this.points);
    this.points = [];
    this.view.draw(stroke);
    this.showAgain();
  }

  drop() {
    this.points = [];
    this.refused = [];
    this.cross = null;
    this.unmeasured();
    this.drawing.draft([], null, false);
  }

  key(event) {
    const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
    const step = event.shiftKey ? FINE_M : event.ctrlKey ? COARSE_M : STEP_M;
    const move = moves[event.key]?.map((part) => part * step);
    const done = this.tool ? this.keyWithTool(event, move) : this.keyOnThing(event, move);
    if (done) event.preventDefault();
  }

  keyWithTool(event, move) {
    const [left, low, right, high] = this.drawing.window;
    this.cross ??= [Math.round((left + right) / 2), Math.round((low + high) / 2)];
    if (move) this.draft(stepped(this.cross, move));
    else if (event.key === "Enter") this.enter();
    else if (event.key === "Escape") this.view.pick(null);
    else return false;
    if (move) this.view.redraw(`At ${this.view.told(this.cross)}.`);
    return true;
  }

  enter() {
    const last = this.points.at(-1);
    const again = last && this.points.length > 2 && last[0] === this.cross[0] && last[1] === this.cross[1];
    if (this.tool.by === "corners" && again) this.finish();
    else this.add([...this.cross]);
  }

  keyOnThing(event, move) {
    const { chosen } = this.view;
    const focused = event.target.dataset?.thing;
    if (event.key === "PageDown" || event.key === "PageUp") this.view.next(event.key === "PageDown" ? 1 : -1);
    else if (focused && (event.key === "Enter" || event.key === " ")) this.view.choose(focused);
    else if (!chosen) return false;
    else if (move) this.view.ask({ kind: "move", thing: chosen, by: move, exact: true });
    else if (event.key === "Delete") this.view.wantRemoved();
    else if (event.key === "Escape") this.view.choose("");
    else return false;
    return true;
  }
}
