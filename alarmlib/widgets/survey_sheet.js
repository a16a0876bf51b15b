// @ts-check
// The survey as a tick sheet: one line a point, three answers by arrow keys, a note where something needs work.

import { h } from "./elements.js";
import { FormView, shownBy } from "./form.js";
import { initialize } from "./moved.js";

const NOT_YET = "not_looked_at";
const WORK = "needs_work";
const PUT_RIGHT = "ok";
const OPENED = new WeakMap(); // which places are unfolded and which round is gone, by the widget's model

/** How far a round is, in words. @param {[number, number]} counted */
const far = ([seen, of]) => `${seen} of ${of} looked at`;

class SurveyView extends FormView {
  build() {
    this.places = new Map();
    this.points = new Map();
    super.build();
    const { places } = this.structure;
    this.mine = OPENED.get(this.model) ?? this.first(places);
    OPENED.set(this.model, this.mine);
    this.total = h("p", { class: "total" });
    const undo = h("button", { type: "button", click: () => this.undo() }, "Undo the last change");
    const before = this.box.querySelector(".buttons");
    const rounds = this.structure.rounds.length > 1 ? [this.buildRounds()] : [];
    before.before(...rounds, this.total, ...places.map((place) => this.buildPlace(place)));
    before.append(undo);
    this.counts = () => this.count();
    this.model.on("change:counts", this.counts);
    this.box.addEventListener("change", () => this.count());
    this.turn(this.mine.round);
  }

  // The first place that is not done is open; the others are one line each.
  first(places) {
    const counts = this.model.get("counts").found;
    const open = places.find(({ key }) => counts[key][0] < counts[key][1]);
    return { round: "found", open: new Set(open ? [open.key] : []) };
  }

  buildRounds() {
    const name = `${this.prefix}-round`;
    const each = this.structure.rounds.map(([value, text]) => {
      const input = h("input", { type: "radio", name, value, input: () => this.turn(value) });
      input.checked = value === this.mine.round;
      return h("label", {}, input, h("span", {}, text));
    });
    return h("div", { class: "rounds answers", role: "radiogroup", "aria-label": "Which round?" }, h("span", { class: "label" }, "Which round?"), ...each);
  }

  buildPlace({ key, title, dark, points }) {
    const told = h("span", { class: "far" });
    const fine = h("button", { type: "button", class: "fine", click: () => this.fine(key) });
    const add = h("button", { type: "button", class: "add", click: () => this.add(key) }, "Add a point of your own");
    const place = h("details", { class: "place" },
      h("summary", {}, h("span", { class: "where" }, title), told),
      ...points.map((point) => this.buildPoint(point)),
      h("div", { class: "buttons" }, fine, add));
    place.open = this.mine.open.has(key);
    place.addEventListener("toggle", () => this.mine.open[place.open ? "add" : "delete"](key));
    this.places.set(key, { place, told, fine, title, dark });
    return place;
  }

  buildPoint({ key, text, own, usual }) {
    const id = `${this.prefix}-${key}`;
    const named = own ? this.buildOwn(key, id) : h("span", { class: "what", id: `${id}-what` }, text);
    const answers = this.structure.rounds.map(([round]) => this.buildAnswers(key, round, id, text || "Your own point"));
    const note = this.buildNote(key, id, text, usual);
    const line = h("div", { class: "point" }, named, ...answers, note);
    this.points.set(key, { line, note });
    return line;
  }

  buildOwn(key, id) {
    const input = h("input", { id: `${id}-what`, type: "text", class: "text", autocomplete: "off", "aria-label": "Your own point" });
    const remove = h("button", { type: "button", class: "remove", click: () => this.remove(key), "aria-label": "Remove your own point" }, "Remove");
    const notes = h("div", { class: "notes", id: `${id}-what-notes` });
    this.addField(`${key}/point`, { caption: "Your own point" }, lineControl(input), notes);
    return h("div", { class: "what own" }, input, remove, notes);
  }

  buildAnswers(key, round, id, text) {
    const name = `${id}-${round}`;
    const notes = h("div", { class: "notes", id: `${name}-notes` });
    const inputs = this.structure.choices.map(([value]) => h("input", { type: "radio", name, value }));
    const labels = this.structure.choices.map(([, said], n) => h("label", {}, inputs[n], h("span", {}, said)));
    const box = h("div", { class: "answers", role: "radiogroup", "aria-labelledby": `${id}-what`, "aria-describedby": `${name}-notes` }, ...labels);
    this.addField(`${key}/${round}`, { caption: text }, radioControl(box, inputs), notes);
    return h("div", { class: "asked-in", "data-round": round }, box, notes);
  }

  buildNote(key, id, text, usual) {
    const input = h("input", { id: `${id}-note`, type: "text", class: "text", autocomplete: "off", placeholder: usual, "aria-describedby": `${id}-note-notes` });
    const notes = h("div", { class: "notes", id: `${id}-note-notes` });
    this.addField(`${key}/to_do`, { caption: `What to do: ${text}` }, lineControl(input), notes);
    const tick = h("input", { id: `${id}-right`, type: "checkbox" });
    const right = h("div", { class: "notes" });
    this.addField(`${key}/left`, { caption: `Put right: ${text}` }, tickControl(tick), right);
    return h("div", { class: "note" },
      h("label", { for: `${id}-note` }, "What to do", h("span", { class: "aloud" }, `: ${text}`)), input,
      h("span", { class: "tick" }, tick, h("label", { for: `${id}-right` }, "Put right", h("span", { class: "aloud" }, `: ${text}`))),
      notes, right);
  }

  turn(round) {
    this.mine.round = round;
    this.box.dataset.round = round;
    for (const { place, dark } of this.places.values()) place.hidden = round !== "found" && !dark;
    this.count();
  }

  // What the lines say: how far the round is, and a note where an answer needs one, at once and not after Python.
  count() {
    const counts = this.model.get("counts")[this.mine.round];
    this.total.textContent = this.places.size > 1 ? far(counts.all) : "";
    for (const [key, { told, fine, title }] of this.places) {
      const [seen, of] = counts[key] ?? [0, 0];
      told.textContent = `${seen === of && of ? "✓ " : ""}${far([seen, of])}`;
      fine.textContent = seen ? "The rest is fine" : "All fine";
      fine.setAttribute("aria-label", `${fine.textContent}: ${title}`);
      fine.hidden = seen === of;
    }
    for (const [key, { line, note }] of this.points) {
      const work = this.structure.rounds.some(([round]) => this.fields.get(`${key}/${round}`).control.get() === WORK);
      note.hidden = !work;
      line.classList.toggle("work", work);
    }
  }

  redraw(said) {
    super.redraw(said);
    if (this.total) this.count();
  }

  async fine(heading) {
    const { place } = this.places.get(heading);
    this.say(await this.link.ask({ kind: "fine", heading, round: this.mine.round }));
    place.querySelector("summary").focus();
  }

  async add(heading) {
    const answer = await this.link.ask({ kind: "add", heading });
    this.say(answer);
    (this.successor ?? this).fields.get(`${answer.row}/point`)?.control.focus();
  }

  async remove(row) {
    this.say(await this.link.ask({ kind: "remove", row }));
  }

  async undo() {
    this.say(await this.link.ask({ kind: "undo" }));
  }

  close() {
    super.close();
    this.model.off("change:counts", this.counts);
  }
}

// What a field on the page asks of its control, for one input or several.
function control(box, inputs, more) {
  const focus = () => (inputs.find((each) => each.checked) ?? inputs[0]).focus();
  const mark = (bad) => inputs.forEach((each) => (bad ? each.setAttribute("aria-invalid", "true") : each.removeAttribute("aria-invalid")));
  return { box, inputs: () => inputs, offer() {}, focus, focused: () => box.contains(document.activeElement), mark, ...more };
}

function radioControl(box, inputs) {
  const get = () => inputs.find((each) => each.checked)?.value ?? NOT_YET;
  const set = (text) => inputs.forEach((each) => { each.checked = each.value === text; });
  return control(box, inputs, { instant: true, get, set });
}

function tickControl(input) {
  const set = (text) => { input.checked = text === PUT_RIGHT; };
  return control(input, [input], { instant: true, get: () => (input.checked ? PUT_RIGHT : NOT_YET), set });
}

function lineControl(input) {
  const set = (text) => {
    if (input.value !== text) input.value = text;
  };
  return control(input, [input], { instant: false, get: () => input.value, set });
}

export default { initialize, render: shownBy(SurveyView) };
