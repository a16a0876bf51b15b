// @ts-check
// One field's life: shown by Python, typed, kept, sent, answered. `shown` is the text Python gave last;
// `entry` = { text, seen, sent } exists while something typed here is not saved.

import { kept } from "./kept.js";

export const PAUSE_MS = 400;

/** @typedef {{ text: string, seen: string, sent: string | null }} Typed what is here, over which text of Python's, and what was sent */
/** @typedef {{ theirs: string, theirs_text: string, mine_text: string }} Clash */
/** @typedef {{ get(): string, set(text: string): void, focused(): boolean, focus(): void, instant?: boolean }} Control */
/**
 * @typedef {{
 *   key: string, values: Record<string, string>, link: { ask(message: object): Promise<import("./link.js").Message> },
 *   redraw(said?: string): void, saved(by: Entry): void,
 * }} Form
 */

export class Entry {
  /** @param {Form} form @param {string} id @param {string} caption @param {Control} control */
  constructor(form, id, caption, control) {
    this.form = form;
    this.id = id;
    this.caption = caption;
    this.control = control;
    this.shown = form.values[id] ?? "";
    /** @type {Typed | null} */
    this.entry = null;
    this.flying = false;
    this.settled = true;
    /** @type {{ text: string, error: string } | null} */
    this.failed = null;
    /** @type {Clash | null} */
    this.clash = null;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
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

  /** @param {Typed | null} entry */
  keep(entry) {
    this.entry = entry;
    if (!entry) this.failed = null;
    kept.put(this.form.key, this.id, entry);
  }

  /** @param {boolean} again also when Python refused this very text */
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

  /** @param {import("./link.js").Message} answer @param {string} text what was sent */
  answered(answer, text) {
    const newer = this.entry?.text === text ? null : this.entry;
    if (answer.ok) {
      this.shown = answer.shown;
      if (newer) this.keep({ text: newer.text, seen: answer.shown, sent: null });
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

  /** Python's value moved: it never goes over what is typed here nor into the focused control. @param {string} text */
  given(text) {
    if (this.entry || this.flying || this.control.focused()) return;
    this.shown = text;
    this.control.set(text);
  }

  /** After a re-run: what was typed before is shown again and sent again. @param {Typed} entry */
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
    if (!this.clash) return;
    this.keep({ text: this.control.get(), seen: this.clash.theirs, sent: null });
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
    this.form.redraw("Their value is kept.");
  }

  get problem() {
    if (this.clash) return "changed elsewhere too";
    const open = this.settled || !this.control.focused();
    return this.entry && this.failed?.text === this.entry.text && open ? this.failed.error : "";
  }

  // Shows what is here: a matter of the page.
  draw() {}
}
