// @ts-check
// The plan on the page: tools as words, the drawing, a list of its objects, and the chosen one's measures as a form.

import { h } from "./elements.js";
import { FormView, shownBy } from "./form.js";
import { cornersOf, middle, panned, told, zoomed } from "./geometry.js";
import { kept } from "./kept.js";
import { Newest } from "./link.js";
import { initialize } from "./moved.js";
import { PlanDrawing } from "./plan_draw.js";
import { PlanHand } from "./plan_hand.js";
import { TracingPaper } from "./plan_paper.js";
import { LISTED, ORDER, WORDS } from "./plan_things.js";
import { ToolFields } from "./plan_tool.js";

const HOW =
  "Tab leads to the plan. Page Down and Page Up choose the next or the last part of the plan. Arrows move the chosen one by 0.1 m, with Shift by " +
  "0.01 m, with Ctrl by 1 m. Delete removes it. A device is turned by its round handle or by the direction typed under the plan. With a tool chosen, arrows move a cross, and " +
  "Enter puts a corner there. Escape puts the tool away. Escape during a drag changes nothing.";
const KEY =
  "Slanted lines: computed to be seen by four steps across the view; crossed lines: by four steps any way; thin dashed outline: may be " +
  "seen. Marks in squares are ways in, in circles inside doors (d), open doorways (o), stairs (≡), the way across the yard (y) and devices (letters). Dotted " +
  "lines are walls that two rooms share. A mark with ! and a dashed outline is not right: the list under the plan says why.";

const DRAFT = "draft"; // under this name drawings are kept among the form's unsaved texts

class PlanView extends FormView {
  build() {
    super.build();
    this.drawing = new PlanDrawing(this.prefix);
    this.paper = new TracingPaper(this);
    this.looks = new Newest(this.link, (question, answer) => this.showLook(question, answer));
    this.measures = new Newest(this.link, (_question, { at, size }) => this.drawing.measured(at, size));
    this.hand = new PlanHand(this);
    this.tool = null;
    this.framed = true; // the frame is the whole storey's; false once a person chose it
    this.sent = []; // drawings that Python has not answered
    this.refused = null; // the last one that Python refused; the next stroke takes its place
    this.unsaved = []; // others that are not saved; each is shown once its tool is chosen, until it is drawn or dropped
    this.panel = h("div", { class: "panel" });
    this.wrong = h("ul", { class: "problems" });
    const before = this.box.querySelector(".buttons");
    this.fieldsOfTool = new ToolFields(this);
    // The sentence is right under the pointer, not at the form's far end.
    before.before(this.buildTools(), this.drawing.svg, this.box.querySelector(".foot"), this.fieldsOfTool.element, this.buildThings(), this.panel, this.wrong,
      h("p", { class: "help", id: `${this.prefix}-how` }, HOW), h("p", { class: "help" }, KEY), this.paper.element);
    this.panelOf = "";
    this.draws = () => this.drawPanel();
    this.model.on("change:scene change:chosen", this.draws);
    this.sized = new ResizeObserver(() => this.drawPlan());
    this.sized.observe(this.drawing.svg);
    this.whole();
    this.drawPanel();
    this.bringBackDrafts();
  }

  get scene() {
    return this.model.get("scene");
  }

  get chosen() {
    return this.model.get("chosen");
  }

  get chosenThing() {
    return this.thing(this.chosen);
  }

  thing(name) {
    const [what, id] = name.split(":");
    return (this.scene[LISTED[what]] ?? []).find((each) => each.id === id);
  }

  device(name) {
    return name?.startsWith("device:") ? this.thing(name) : null;
  }

  button(label, click, more = {}) {
    return h("button", { type: "button", click, ...more }, label);
  }

  buildTools() {
    this.storeys = h("select", { id: `${this.prefix}-storey`, "aria-label": this.structure.words.one_storey });
    this.storeys.addEventListener("change", () => this.viewStorey());
    this.toolButtons = new Map();
    for (const tool of [null, ...this.structure.tools]) {
      const button = this.button(tool ? tool.label : "Choose and move", () => this.pick(tool), { "aria-pressed": tool ? "false" : "true" });
      this.toolButtons.set(tool?.key ?? "", button);
    }
    return h("div", { class: "tools", role: "group", "aria-label": "Tools" },
      h("label", { for: this.storeys.id }, `${this.structure.words.one_storey} `), this.storeys, ...this.toolButtons.values(),
      this.button("Undo", () => this.ask({ kind: "undo" })), this.button("Redo", () => this.ask({ kind: "redo" })),
      this.button("Bigger", () => this.zoom(1 / 1.4)), this.button("Smaller", () => this.zoom(1.4)),
      this.button(this.structure.words.whole_storey, () => this.whole()));
  }

  buildThings() {
    const id = `${this.prefix}-things`;
    this.things = h("select", { id });
    this.things.addEventListener("change", () => this.chooseListed());
    this.remove = h("span", { class: "asked" });
    this.offerRemoval();
    return h("div", { class: "tools" }, h("label", { for: id }, "Chosen part "), this.things, this.remove);
  }

  offerRemoval() {
    this.remove.replaceChildren(
      this.button("Take off the plan", () => (this.chosenThing ? this.ask({ kind: "unplace", thing: this.chosen }) : this.nothingChosen())),
      this.button("Remove", () => this.wantRemoved()));
  }

  nothingChosen() {
    this.redraw("Choose a part of the plan first: point at it, or take it from the list.");
  }

  wantRemoved() {
    const each = this.chosenThing;
    if (!each) {
      this.nothingChosen();
      return;
    }
    const again = () => {
      this.offerRemoval();
      this.drawing.svg.focus();
    };
    const yes = this.button("Yes, remove it", () => { this.ask({ kind: "remove", thing: this.chosen }); again(); });
    const no = this.button("No, leave it", again);
    this.remove.replaceChildren(h("span", {}, `Remove ${each.name}? `), yes, no);
    no.focus();
  }

  pick(tool) {
    this.hand.drop();
    this.tool = tool;
    this.drawing.svg.classList.toggle("drawing", Boolean(tool));
    for (const [key, button] of this.toolButtons) button.setAttribute("aria-pressed", key === (tool?.key ?? "") ? "true" : "false");
    this.fieldsOfTool.show(tool);
    this.drawPlan();
    this.redraw(tool ? this.toolText(tool) : "Choose and move.");
    if (this.notSaved) this.bringBack();
  }

  toolText({ label, help }) {
    const { next } = this.fieldsOfTool;
    return `${label}: ${help}${next ? ` This places ${next}.` : ""}`;
  }

  // What is drawn, with the tool, kind and object as they were chosen when it was drawn.
  stroke(points) {
    return { ...this.asked(), by: this.tool.by, points };
  }

  get late() {
    return this.link.late;
  }

  // Drawings are kept in this tab until Python has them, as unsaved texts are.
  keepDrafts() {
    const drafts = [...(this.refused ? [this.refused] : []), ...this.unsaved, ...this.sent];
    kept.put(this.key, DRAFT, drafts.length ? drafts : null);
  }

  // The drawing that is not saved and whose tool is chosen.
  get notSaved() {
    return [this.refused, ...this.unsaved].find((each) => each && each.tool === this.tool?.key);
  }

  async draw(stroke) {
    const { value } = this.fieldsOfTool.text;
    this.sent.push(stroke);
    this.refused = null;
    this.keepDrafts();
    this.fieldsOfTool.offer(this.tool);
    const answer = await this.ask({ kind: "draw", ...stroke });
    this.sent = this.sent.filter((each) => each !== stroke);
    if (answer.ok) return this.drawn(value);
    if (this.refused) this.unsaved.push(this.refused);
    this.refused = stroke;
    return this.showAgain(stroke);
  }

  // What was typed while Python was asked is the next drawing and stays in its box.
  drawn(typed) {
    this.keepDrafts();
    this.fieldsOfTool.emptied(typed);
    this.fieldsOfTool.fail("");
    this.hand.refused = [];
    if (this.notSaved) this.bringBack();
    this.drawPlan();
  }

  showAgain(stroke) {
    this.keepDrafts();
    if (this.tool?.key !== stroke.tool) this.pick(this.structure.tools.find(({ key }) => key === stroke.tool));
    this.fieldsOfTool.take(stroke);
    this.hand.refuse(stroke);
  }

  bringBack() {
    this.showAgain(this.notSaved);
    this.redraw("✗ This drawing was not saved. Its corners are in the box beside the tools: draw it again, or drop it.");
  }

  // After a re-run: drawings that were refused or never answered are shown again, one after the other.
  bringBackDrafts() {
    const drafts = [].concat(kept.load(this.key)[DRAFT] ?? []);
    this.unsaved = drafts.filter(({ tool }) => this.structure.tools.some(({ key }) => key === tool));
    if (this.unsaved.length) this.pick(this.structure.tools.find(({ key }) => key === this.unsaved[0].tool));
  }

  get lateText() {
    return "✗ Not saved yet: Python is busy or stopped. A drawing is kept here and shown again when this page is run again. Make a move or a turn once more then.";
  }

  asked() {
    return { tool: this.tool.key, ...this.fieldsOfTool.asked() };
  }

  async drawTyped() {
    const text = this.fieldsOfTool.text.value;
    const answer = await this.ask({ kind: "typed", ...this.asked(), text });
    return answer.ok ? this.settled(text) : this.fieldsOfTool.fail(answer.error);
  }

  dropDraft() {
    this.redraw("Dropped.");
    this.hand.drop();
    this.settled(this.fieldsOfTool.text.value);
  }

  // The drawing that was shown is drawn by its numbers or dropped.
  settled(typed) {
    const shown = this.notSaved;
    if (shown === this.refused) this.refused = null;
    else this.unsaved = this.unsaved.filter((each) => each !== shown);
    if (shown) this.hand.drop();
    this.drawn(typed);
  }

  // A place in the home's own unit.
  told(point) {
    return told(point, this.scene.unit);
  }

  offerText(points) {
    this.fieldsOfTool.text.value = points.map((point) => this.told(point)).join("; ");
  }

  // What was said of one act is not said again after the next.
  async ask(question) {
    this.said = "";
    const answer = await this.link.ask(question);
    if (answer.ok ? answer.say : answer.error) this.say(answer);
    else this.redraw();
    if (!answer.ok) {
      if (question.kind === "draw") this.fieldsOfTool.fail(answer.error);
      this.drawPlan();
    }
    return answer;
  }

  redraw(said) {
    if (!said && [...this.fields.values()].some((field) => field.entry)) this.said = "";
    super.redraw(said);
  }

  choose(thing) {
    return this.ask({ kind: "choose", thing });
  }

  next(step) {
    const names = [...this.drawing.nodes.keys()];
    const at = names.indexOf(this.chosen);
    if (names.length) this.choose(names[(at + step + names.length) % names.length]);
  }

  // While a device is dragged: what it would see from there.
  lookFrom(thing, place) {
    if (this.structure.coverage) this.looks.want({ kind: "look", thing, ...place });
  }

  /** @param {import("./link.js").Message} question @param {import("./link.js").Message} answer */
  showLook({ thing }, { areas }) {
    const id = thing.split(":")[1];
    if (areas) this.drawing.showAreas(this.scene.devices.map((each) => (each.id === id ? { ...each, ...areas } : each)));
  }

  zoom(by) {
    this.framed = false;
    const each = this.chosenThing;
    const place = each ? each.at ?? middle(each.outline) : middle(cornersOf(this.drawing.window));
    this.drawing.look(zoomed(this.drawing.window, by, place));
    this.drawPlan();
  }

  pan(by) {
    this.framed = false;
    this.drawing.look(panned(this.drawing.window, by));
    this.drawPlan();
  }

  whole() {
    this.framed = true;
    this.drawing.look(this.scene.box);
    this.drawPlan();
  }

  // What has just been chosen or drawn comes into sight: with the whole storey, or in the middle of a frame of one's own.
  bringIntoSight() {
    const each = this.chosenThing;
    if (!each || this.drawing.shows(each.outline ?? [each.at])) return;
    if (this.framed) {
      this.drawing.look(this.scene.box);
      return;
    }
    this.drawing.look(zoomed(this.drawing.window, 1, each.outline ? middle(each.outline) : each.at));
  }

  drawPlan() {
    const { scene } = this;
    this.drawing.draw(scene, this.chosen);
    this.drawing.handles(this.tool ? null : this.chosenThing);
    this.hand.showAgain();
    this.paper.draw();
    this.offerStoreys();
    this.offerThings();
    this.fieldsOfTool.offer(this.tool);
    this.wrong.replaceChildren(...scene.problems.map(({ message }) => h("li", {}, `! ${message}`)));
  }

  // What is being chosen stays while Python is asked, and the list is made again only when it changed: letters typed
  // into it would start over.
  async chooseListed() {
    this.choosing = (this.choosing ?? 0) + 1;
    await this.choose(this.things.value);
    this.choosing -= 1;
    this.offerThings();
  }

  async viewStorey() {
    this.viewing = (this.viewing ?? 0) + 1;
    await this.ask({ kind: "view", storey: this.storeys.value });
    this.viewing -= 1;
    this.whole();
  }

  offerStoreys() {
    const { storeys, storey } = this.scene;
    const listed = JSON.stringify(storeys);
    if (listed !== this.listed) this.storeys.replaceChildren(...storeys.map(([id, name]) => h("option", { value: id }, name)));
    this.listed = listed;
    if (!this.viewing) this.storeys.value = storey;
  }

  offerThings() {
    const groups = ORDER.map((what) => {
      const group = h("optgroup", { label: WORDS[what] });
      group.append(...this.scene[LISTED[what]].map((each) => h("option", { value: `${what}:${each.id}` }, `${each.mark} ${each.name}`.trim())));
      return group;
    });
    const offered = groups.filter((group) => group.children.length);
    const listed = offered.map((group) => group.outerHTML).join("");
    if (listed !== this.listedThings) this.things.replaceChildren(h("option", { value: "" }, "nothing"), ...offered);
    this.listedThings = listed;
    if (!this.choosing) this.things.value = this.chosenThing ? this.chosen : "";
  }

  // The chosen object's measures: fields of the form, saved as all others.
  drawPanel() {
    const each = this.chosenThing;
    const of = each ? this.chosen : "";
    if (this.panelOf !== of) this.bringIntoSight();
    this.drawPlan();
    if (this.panelOf === of) {
      if (each) this.panel.querySelector("legend").textContent = each.name || WORDS[of.split(":")[0]];
      return;
    }
    this.panelOf = of;
    for (const field of this.fields.values()) clearTimeout(field.timer);
    this.fields.clear();
    this.panel.replaceChildren();
    if (each) this.buildPanel(each);
    // A list that chose it keeps the keys: there an arrow goes on in the list, here it would move the object.
    if (this.drawing.svg.contains(document.activeElement)) this.drawing.nodes.get(of)?.focus({ preventScroll: true });
  }

  buildPanel(each) {
    const [what] = this.chosen.split(":");
    const fields = this.structure.panels[what].map((field) => this.buildField({ ...field, id: `${this.chosen}/${field.id}` }));
    this.panel.replaceChildren(h("fieldset", { class: "group" }, h("legend", {}, each.name || WORDS[what]), h("div", { class: "grid" }, ...fields)));
    this.restore();
  }

  // Texts kept for objects that aren't chosen wait until they are.
  restore() {
    const saved = kept.load(this.key);
    for (const [id, field] of this.fields) if (saved[id]) field.restore(saved[id]);
  }

  close() {
    super.close();
    this.hand.ended();
    this.model.off("change:scene change:chosen", this.draws);
    this.sized.disconnect();
  }
}

export default { initialize, render: shownBy(PlanView) };
