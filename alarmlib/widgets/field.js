// One field's life: shown by Python, typed, kept, sent, answered. `shown` is the text Python gave last;
// `entry` = { text, seen, sent } exists while something typed here is not saved.

const PAUSE_MS = 400;

class Field {
  constructor(form, id, caption, control, notes) {
    Object.assign(this, { form, id, caption, control, notes });
    this.shown = form.values[id] ?? "";
    this.entry = null;
    this.flying = false;
    this.settled = true;
    this.failed = null;
    this.clash = null;
    control.set(this.shown);
    control.box.addEventListener("input", () => this.typed());
    control.box.addEventListener("change", () => this.settle());
    control.box.addEventListener("focusout", (event) => {
      if (!control.box.contains(event.relatedTarget)) this.settle();
    });
  }

  typed() {
    const text = this.control.get();
    clearTimeout(this.timer);
    this.settled = false;
    if (text === this.shown && !this.flying && !this.clash) this.keep(null);
    else {
      this.keep({ text, seen: this.entry?.seen ?? this.shown, sent: this.entry?.sent ?? null });
      this.timer = setTimeout(() => this.send(), this.control.instant ? 0 : PAUSE_MS);
    }
    this.form.redraw();
  }

  // The person has finished here: send at once, and from now on say what is wrong.
  settle() {
    clearTimeout(this.timer);
    this.settled = true;
    if (this.entry) this.send();
    else this.given(this.form.values[this.id] ?? "");
    this.draw();
    this.form.redraw();
  }

  keep(entry) {
    this.entry = entry;
    if (!entry) this.failed = null;
    kept.put(this.form.key, this.id, entry);
  }

  async send(again = false) {
    const entry = this.entry;
    if (!entry || this.flying || this.clash || (!again && this.failed?.text === entry.text)) return;
    this.flying = true;
    this.keep({ ...entry, sent: entry.text });
    const answer = await this.form.link.ask({ kind: "edit", id: this.id, text: entry.text, seen: entry.seen });
    this.flying = false;
    this.answered(answer, entry.text);
    this.draw();
    this.form.redraw();
  }

  answered(answer, text) {
    const newer = this.entry && this.entry.text !== text;
    if (answer.ok) {
      this.shown = answer.shown;
      if (newer) this.keep({ text: this.entry.text, seen: answer.shown, sent: null });
      else this.keep(null);
      if (newer) this.send();
      else if (!this.control.focused()) this.given(answer.shown);
      this.form.saved(this);
    } else if (answer.clash) {
      this.clash = answer.clash;
    } else {
      this.failed = { text, error: answer.error };
      if (newer) this.send();
    }
  }

  // Python's value moved: it never goes over what is typed here nor into the focused control.
  given(text) {
    if (this.entry || this.flying || this.control.focused()) return;
    this.shown = text;
    this.control.set(text);
  }

  // After a re-run: what was typed before is shown again and sent again.
  restore(entry) {
    if (entry.text === this.shown) {
      this.keep(null);
      return;
    }
    this.keep({ ...entry, seen: entry.sent === this.shown ? this.shown : entry.seen });
    this.control.set(entry.text);
    this.send();
  }

  takeMine() {
    const text = this.control.get();
    this.keep({ text, seen: this.clash.theirs, sent: null });
    this.clash = null;
    this.failed = null;
    this.send();
    this.control.focus();
  }

  takeTheirs() {
    this.clash = null;
    this.keep(null);
    this.shown = this.form.values[this.id] ?? "";
    this.control.set(this.shown);
    this.control.focus();
    this.draw();
    this.form.redraw("Their value stands.");
  }

  get problem() {
    if (this.clash) return "changed elsewhere too";
    const open = this.settled || !this.control.focused();
    return this.entry && this.failed?.text === this.entry.text && open ? this.failed.error : "";
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
