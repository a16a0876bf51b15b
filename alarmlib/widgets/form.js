// @ts-check
// The form on the page: fields in groups or in a table, buttons, files, and one line that says what is saved.

import { speak } from "./announce.js";
import { makeControl } from "./controls.js";
import { h } from "./elements.js";
import { Field } from "./field.js";
import { Fold, moreTold } from "./folds.js";
import { kept, placeNow } from "./kept.js";
import { keepKeys } from "./keys.js";
import { Link } from "./link.js";
import { enlist } from "./reveal.js";
import { TableView } from "./table.js";

const ATTACHED_MS = 200; // by then a new form is on the page

/** @param {Element | null} at @returns {at is HTMLInputElement | HTMLTextAreaElement} */
const typed = (at) => at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement;

export class FormView {
  constructor(model, root) {
    this.model = model;
    this.root = root;
    this.structure = model.get("structure");
    this.key = this.structure.key;
    this.prefix = `alarm-${Math.random().toString(36).slice(2, 8)}`;
    this.fields = new Map();
    this.troubled = new Set(); // the fields that were wrong when it was drawn last
    this.said = "";
    this.successor = null;
    this.link = new Link(model, () => this.redraw());
    this.status = h("p", { role: "status", "aria-live": "off" }); // read out by the page's one line, not by forty
    this.busy = h("p", { class: "busy", "aria-hidden": "true" });
    this.build();
    this.listen();
    this.restore();
    this.retire = enlist(this);
    setTimeout(() => this.sayOnce(), ATTACHED_MS);
    this.redraw();
  }

  get values() {
    return this.model.get("values");
  }

  get lateText() {
    return "✗ Not saved yet: Python is busy or stopped. What you typed is kept here and is sent again when this page is run again.";
  }

  get warnings() {
    return this.model.get("warnings");
  }

  // What holds where a field is blank, in a few words.
  get inherited() {
    return this.model.get("inherited") ?? {};
  }

  get asides() {
    return this.model.get("asides") ?? {};
  }

  // A legend that repeats the heading above it is for screen readers alone.
  sayOnce() {
    const before = [...document.querySelectorAll(".jp-Notebook :is(h2, h3)")]
      .filter((each) => each.compareDocumentPosition(this.box) & Node.DOCUMENT_POSITION_FOLLOWING).pop();
    const said = before?.textContent.replace("¶", "").trim();
    this.box.querySelector("legend").classList.toggle("twice", said === this.structure.title);
  }

  get folding() {
    return this.model.get("folding") ?? {};
  }

  build() {
    const { title, intro, table } = this.structure;
    const box = h("fieldset", { class: "alarm-form" }, h("legend", {}, title));
    const inner = h("div", { id: `${this.prefix}-inner` }, intro ? h("p", { class: "intro" }, intro) : null);
    if (this.structure.summed) box.append(this.buildSummary(title, inner));
    if (table) {
      this.table = new TableView(this, table);
      inner.append(this.table.element);
    } else inner.append(...this.buildGroups());
    inner.append(this.buildButtons());
    box.append(inner, h("div", { class: "foot" }, this.status, this.busy));
    this.root.append(box);
    this.box = box;
    this.offer();
  }

  // One line in place of a form that lacks nothing, and of a long list.
  buildSummary(title, inner) {
    this.line = h("span", {}, this.folding.line);
    const told = (open) => ({ text: open ? "Hide" : "Show", label: `${open ? "Hide" : "Show"}: ${title}` });
    this.outer = new Fold(this.key, inner, told);
    this.outer.begin(!this.folding.folded);
    const summary = h("p", { class: "sum" }, this.line, this.outer.button);
    summary.hidden = !this.folding.line;
    return (this.summary = summary);
  }

  // What the next result needs; behind "More" the rest.
  buildGroups() {
    const split = (more) => (this.structure.groups ?? [])
      .map(({ legend, fields }) => ({ legend, fields: fields.filter((field) => Boolean(field.more) === more) }))
      .filter(({ fields }) => fields.length);
    const shown = split(false).map((group) => this.buildGroup(group));
    const rest = split(true);
    if (!rest.length) return shown;
    const part = h("div", { id: `${this.prefix}-more`, class: "rest" }, ...rest.map((group) => this.buildGroup(group)));
    this.more = new Fold(`${this.key}/more`, part, () => ({ text: moreTold(this.folding.filled?.[""]) }));
    return [...shown, h("p", { class: "more" }, this.more.button, " ", h("span", { class: "help" }, this.structure.more)), part];
  }

  drawFolding() {
    if (this.line) {
      this.line.textContent = this.folding.line;
      this.summary.hidden = !this.folding.line;
      if (!this.folding.line) this.outer.set(true);
    }
    this.more?.tell();
  }

  // Opens all that hides a field.
  unfold(id) {
    this.root.closest(".alarm-fold.closed")?.querySelector("button[aria-expanded=false]")?.click();
    this.outer?.turn(true);
    if (this.more?.part.contains(this.fields.get(id)?.control.box)) this.more.turn(true);
    this.table?.unfoldTo(id);
  }

  // The id that a path in the home has in this form; null where it has none.
  idOf(path) {
    const base = this.structure.base;
    if (base === undefined) return null;
    if (!base) return this.fields.has(path) ? path : null;
    const own = !this.table?.there; // rows that are kept elsewhere are gone to there
    if (path === base) return own ? "" : null;
    const id = path.startsWith(`${base}/`) ? path.slice(base.length + 1) : null;
    return id !== null && (this.fields.has(id) || (own && this.table?.rows.has(id))) ? id : null;
  }

  // Goes to a field, a row or the whole list, with the keyboard. False where the path is not in this form.
  reveal(path) {
    const id = this.idOf(path);
    if (id === null) return false;
    this.unfold(id);
    const row = this.table && (id ? this.table.rows.get(id) : [...this.table.rows.values()][0]);
    const field = this.fields.get(id) ?? row?.fields[0];
    if (field) field.control.focus();
    else (this.table?.add ?? this.box.querySelector("input, select, textarea, button"))?.focus();
    this.box.ownerDocument.activeElement?.scrollIntoView({ block: "center" });
    return true;
  }

  // What findings ask for is not behind "More", unless its reader put it there.
  openAsked(paths) {
    for (const path of paths) {
      const id = this.idOf(path);
      if (!id) continue;
      if (this.more?.part.contains(this.fields.get(id)?.control.box)) this.more.begin(true);
      this.table?.openMore(id);
    }
  }

  buildGroup({ legend, fields }) {
    const box = legend ? h("fieldset", { class: "group" }, h("legend", {}, legend)) : h("div", { class: "group" });
    box.append(h("div", { class: "grid" }, ...fields.map((field) => this.buildField(field))));
    return box;
  }

  buildField(field) {
    const id = `${this.prefix}-${this.fields.size}`;
    const named = field.control === "multi" ? { "aria-labelledby": `${id}-label` } : {};
    const control = makeControl(field, id, { ...named, "aria-describedby": `${id}-help ${id}-notes` });
    const label = field.control === "multi"
      ? h("span", { class: "label", id: `${id}-label` }, field.caption)
      : h("label", { for: id }, field.caption);
    const help = h("p", { class: "help", id: `${id}-help` }, field.help);
    const notes = h("div", { class: "notes", id: `${id}-notes` });
    this.addField(field.id, field, control, notes);
    const parts = field.control === "tick" ? [h("div", { class: "tick" }, control.box, label)] : [label, control.box];
    return h("div", { class: `field ${field.control}` }, ...parts, help, notes);
  }

  addField(id, field, control, notes, caption = field.caption) {
    control.offer(this.model.get("options")[field.id] ?? []);
    const made = new Field(this, id, caption, control, notes);
    made.optionsKey = field.id;
    this.fields.set(id, made);
    made.draw();
    return made;
  }

  offer() {
    const options = this.model.get("options");
    for (const field of this.fields.values()) {
      const choices = options[field.optionsKey];
      const known = JSON.stringify(choices);
      if (choices && field.offered !== known) field.control.offer(choices);
      field.offered = known;
    }
  }

  buildButtons() {
    const row = h("div", { class: "buttons" });
    for (const [n, action] of (this.structure.actions ?? []).entries()) row.append(this.buildAction(n, action));
    for (const [n, file] of (this.structure.downloads ?? []).entries()) {
      row.append(h("button", { type: "button", click: () => this.download(n) }, file.label));
    }
    if (this.structure.upload) row.append(this.buildUpload(this.structure.upload));
    return row;
  }

  buildAction(n, { label, confirm }) {
    const button = h("button", { type: "button" }, label);
    const go = async () => this.say(await this.link.ask({ kind: "action", n }));
    const close = () => {
      asked.replaceWith(button);
      button.focus();
    };
    const no = h("button", { type: "button", click: close }, "No, leave it");
    const yes = h("button", { type: "button", click: () => { close(); go(); } }, "Yes, do it");
    const asked = h("span", { class: "asked", role: "group", "aria-label": confirm }, h("span", {}, confirm), yes, no);
    button.addEventListener("click", () => {
      if (!confirm) return go();
      button.replaceWith(asked);
      return no.focus();
    });
    return button;
  }

  buildUpload({ label, accept, most_bytes: most }) {
    const id = `${this.prefix}-upload`;
    const input = h("input", { type: "file", id, accept });
    input.addEventListener("change", async () => {
      const file = input.files[0];
      if (!file) return;
      if (file.size > most) {
        this.redraw(`✗ ${file.name} is larger than ${most / 1e6} MB, so it was not read. Nothing was changed.`);
      } else {
        const content = await file.arrayBuffer();
        this.say(await this.link.ask({ kind: "upload", name: file.name }, { buffers: [content] }));
      }
      input.value = "";
    });
    return h("span", { class: "upload" }, h("label", { for: id }, label), input);
  }

  async download(n) {
    const answer = await this.link.ask({ kind: "download", n });
    if (answer.file) {
      const address = URL.createObjectURL(new Blob(answer.buffers, { type: answer.file.type }));
      h("a", { href: address, download: answer.file.name }).click();
      setTimeout(() => URL.revokeObjectURL(address), 10000);
    }
    this.say(answer);
  }

  // A form that was built again while it asked hands the answer on.
  say(answer) {
    if (this.successor) return this.successor.say(answer);
    return this.redraw(answer.ok ? answer.say || "Done." : `✗ ${answer.error}`);
  }

  // After any save, fields that failed for want of another fact get another try.
  saved(by) {
    this.said = "✓ Saved.";
    for (const field of this.fields.values()) if (field !== by && field.failed) field.send(true);
  }

  listen() {
    const drawAll = () => {
      this.due = false;
      if (this.closed) return;
      if (this.table) this.table.draw();
      this.drawFolding();
      this.offer();
      for (const field of this.fields.values()) {
        if (field.id in this.values) field.given(this.values[field.id]);
        field.draw();
      }
      this.redraw();
    };
    this.changes = "change:values change:rows change:options change:warnings change:asides change:inherited change:folding";
    // Several parts may move in one message: they are drawn once.
    this.drawSoon = () => {
      if (!this.due) queueMicrotask(drawAll);
      this.due = true;
    };
    for (const change of this.changes.split(" ")) this.model.on(change, this.drawSoon);
    this.seen = () => document.visibilityState === "visible" && this.refresh();
    document.addEventListener("visibilitychange", this.seen);
    window.addEventListener("focus", this.seen);
    for (const kind of ["keydown", "keyup", "keypress"]) this.box.addEventListener(kind, keepKeys);
    this.box.addEventListener("keydown", (event) => event.key === "Enter" && this.enter(event));
  }

  enter(event) {
    if (event.target.tagName !== "INPUT" || event.target.type === "checkbox") return;
    for (const field of this.fields.values()) if (field.control.box === event.target) field.settle();
  }

  // Another page may have written the home: ask Python to look.
  async refresh() {
    if (this.refreshing) return;
    this.refreshing = true;
    setTimeout(() => { this.refreshing = false; }, 1000);
    await this.link.ask({ kind: "refresh" }, { quiet: true });
  }

  restore() {
    const renamed = this.structure.renamed ?? {};
    for (const [id, entry] of Object.entries(kept.load(this.key))) {
      const now = placeNow(id, (name) => this.fields.has(name), renamed);
      const field = this.fields.get(now);
      if (field && now !== id) kept.put(this.key, id, null);
      if (field) {
        field.restore(entry);
        this.unfold(field.id);
      }
      else {
        kept.put(this.key, id, null);
        this.said = `✗ The place where you had typed “${entry.text}” is gone, so that was not saved.`;
      }
    }
  }

  redraw(said) {
    this.table?.letGo();
    if (said) this.said = said;
    const wrong = [...this.fields.values()].filter((field) => field.problem);
    for (const field of wrong) if (!this.troubled.has(field.id)) this.unfold(field.id);
    this.troubled = new Set(wrong.map((field) => field.id));
    const troubled = wrong.map((field) => field.caption);
    const working = this.link.open.length || [...this.fields.values()].some((field) => field.entry && !field.problem);
    this.mark(working, troubled.length);
    let text = working ? "" : this.said;
    if (troubled.length) text = `✗ Not saved: ${troubled.join("; ")}. The mark at the field says why.`;
    if (this.link.late) {
      text = this.lateText;
    }
    if (this.status.textContent !== text) {
      this.status.textContent = text;
      if (text) speak(text);
    }
    this.busy.textContent = working && !text ? "Saving …" : "";
  }

  // What is not saved here, for the bar over the page: the worst of it in a word.
  mark(working, troubled) {
    const found = [["late", this.link.late], ["wrong", troubled], ["working", working]].find(([, holds]) => holds);
    if (found) this.box.dataset.unsaved = String(found[0]);
    else delete this.box.dataset.unsaved;
  }

  // Where the keyboard is, and what of its text is chosen: in a form that is built again it is there again.
  held() {
    const at = document.activeElement;
    if (!this.box.contains(at)) return null;
    const field = [...this.fields.values()].find((each) => each.control.box.contains(at));
    const chosen = typed(at) ? [at.selectionStart, at.selectionEnd] : null;
    return { id: field?.id, text: at.textContent, chosen };
  }

  hold(held) {
    if (!held) return;
    const buttons = [...this.box.querySelectorAll("button")];
    const named = buttons.find((each) => held.text && each.textContent === held.text);
    const field = this.fields.get(held.id);
    if (field) field.control.focus();
    else (named ?? this.box.querySelector("button, input, select, textarea"))?.focus();
    const now = document.activeElement;
    const [begin, end] = held.chosen ?? [null, null];
    if (field && begin !== null && typed(now)) now.setSelectionRange(begin, end);
  }

  close() {
    this.closed = true;
    this.retire();
    for (const change of this.changes.split(" ")) this.model.off(change, this.drawSoon);
    document.removeEventListener("visibilitychange", this.seen);
    window.removeEventListener("focus", this.seen);
    this.table?.shape.disconnect();
    this.link.close();
  }
}

// How a view of that kind is shown in a cell; it is built again when Python gives it another structure.
export const shownBy = (View) => ({ model, el }) => {
  let view = new View(model, el);
  const anew = () => {
    const before = view;
    const held = before.held();
    before.close();
    el.replaceChildren();
    view = new View(model, el);
    before.successor = view;
    if (before.outer && view.outer) view.outer.set(before.outer.open);
    view.redraw(view.said || before.said);
    view.hold(held);
  };
  model.on("change:structure", anew);
  return () => {
    model.off("change:structure", anew);
    view.close();
  };
};
