// @ts-check
// A field on the page: its control's events, and the sentence beside it.

import { h } from "./elements.js";
import { Entry } from "./entry.js";

export class Field extends Entry {
  /**
   * @param {any} form the form's view @param {string} id @param {string} caption
   * @param {import("./entry.js").Control & { box: HTMLElement, mark(bad: boolean): void }} control @param {HTMLElement} notes
   */
  constructor(form, id, caption, control, notes) {
    super(form, id, caption, control);
    this.notes = notes;
    this.control = control; // with all that a field on the page asks of it
    this.form = form;
    this.optionsKey = id;
    this.offered = "";
    this.drawn = "";
    control.set(this.shown);
    control.box.addEventListener("input", () => this.typed());
    control.box.addEventListener("change", () => this.settle());
    control.box.addEventListener("focusout", (event) => {
      if (!control.box.contains(/** @type {Node | null} */ (event.relatedTarget))) this.settle();
    });
  }

  draw() {
    const warning = this.form.warnings[this.id];
    const parts = [];
    if (this.clash) parts.push(this.clashNote());
    else if (this.problem) parts.push(h("p", { class: "error" }, h("b", {}, "✗ Not saved. "), this.problem));
    if (warning && !this.entry) parts.push(this.warningNote(warning));
    const aside = this.form.asides[this.id];
    if (aside && !this.problem) parts.push(h("p", { class: "warning" }, h("b", {}, "! Saved, but: "), aside));
    const drawn = JSON.stringify([this.clash, this.problem, warning, aside, !this.entry]);
    if (drawn !== this.drawn) this.notes.replaceChildren(...parts);
    this.drawn = drawn;
    this.control.mark(Boolean(this.problem));
  }

  clashNote() {
    return h("div", { class: "error", role: "group", "aria-label": `Two values for ${this.caption}` },
      h("p", {}, h("b", {}, "✗ Not saved. "), "This was changed elsewhere too. Theirs: ",
        h("q", {}, this.clash.theirs_text || "blank"), " Yours: ", h("q", {}, this.clash.mine_text || "blank")),
      h("button", { type: "button", click: () => this.takeMine() }, "Keep mine"),
      h("button", { type: "button", click: () => this.takeTheirs() }, "Take theirs"));
  }

  warningNote(warning) {
    const remove = () => {
      this.control.set("");
      this.typed();
      this.settle();
      this.control.focus();
    };
    const keep = async () => {
      const answer = await this.form.link.ask({ kind: "not_secret", id: this.id });
      this.control.focus();
      this.form.redraw(answer.ok ? "Noted." : answer.error);
    };
    return h("div", { class: "warning", role: "group", "aria-label": `Warning for ${this.caption}` },
      h("p", {}, h("b", {}, "! Careful. "), warning),
      h("button", { type: "button", click: remove }, "Remove it"),
      h("button", { type: "button", click: keep }, "It isn’t one"));
  }
}
