// @ts-check
// The one bar that stays in sight: the page's title and number, what is saved, and what a reader may do from anywhere.

import { SAVED, savedState } from "./around.js";

const ANNOUNCER = "alarm-announcer"; // the one line of a page that is read out; the forms speak through it too
const FIRST_FIELD = ["input", "select", "textarea", "button"].map((kind) => `.alarm-form ${kind}:not([disabled])`).join();
const BUSY = "One moment: Python is busy.";
const BUSY_MS = 1500;
const UNSAVED = ".alarm-form[data-unsaved]";

/** An element with its attributes and children. @param {string} name @param {Record<string, string>} attributes */
export function make(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  node.append(...children);
  return node;
}

/** Has the page's one polite line say something. @param {string} text */
export function announce(text) {
  let line = document.getElementById(ANNOUNCER);
  if (!line) {
    line = make("p", { id: ANNOUNCER, role: "status", "data-waiting": "[]" });
    document.body.append(line);
  }
  line.textContent = text;
}

/** @typedef {{ number: number, count: number, back: string | null, next: string | null }} Around */
/** @typedef {{ undo: () => Promise<Record<string, any>>, turn: (path: string) => void,
 *   help: () => void, print: () => Promise<Record<string, any>>, again: () => void }} Deeds what the bar's buttons do */

const named = (title, { number, count }) => (number ? `${title}, page ${number} of ${count}` : title);

export class Bar {
  /** @param {string} title @param {Around} around @param {Deeds} deeds @param {HTMLElement} page */
  constructor(title, around, deeds, page) {
    this.title = title;
    this.deeds = deeds;
    this.page = page;
    this.drawn = false;
    this.alive = true;
    this.node = make("section", { class: "alarmlib-bar", "aria-label": named(title, around), tabindex: "-1" });
    this.saved = make("span", { class: "saved" });
    this.run = this.button("Run this page again", () => deeds.again());
    this.said = make("p", { class: "said" });
    this.close = this.button("Close", () => this.say(""));
    this.notice = make("div", { class: "notice" }, this.said, this.close);
    this.node.append(this.row(title, around), this.notice);
    this.say("");
    this.follow();
  }

  row(title, { number, count, back, next }) {
    const skip = make("button", { type: "button", class: "skip" }, "Skip to the first question");
    skip.addEventListener("click", () => this.firstField()?.focus());
    const where = number ? make("span", { class: "where" }, `page ${number} of ${count}`) : "";
    const doing = make("div", { class: "doing" },
      this.button("Undo", () => this.ask(this.deeds.undo)),
      this.button("Back", () => this.deeds.turn(back), !back),
      this.button("Next", () => this.deeds.turn(next), !next, "next"),
      this.button("Help", () => this.deeds.help()),
      this.button("Print", () => this.ask(this.deeds.print)));
    const being = make("div", { class: "being" }, make("strong", { class: "title", title }, title), where, this.saved, this.run);
    return make("div", { class: "row" }, skip, being, doing);
  }

  button(label, deed, off = false, kind = "") {
    const button = make("button", { type: "button", class: kind }, label);
    button.toggleAttribute("disabled", off);
    button.addEventListener("click", deed);
    return button;
  }

  firstField() {
    const fields = /** @type {HTMLElement[]} */ ([...this.page.querySelectorAll(FIRST_FIELD)]);
    return fields.find((field) => field.getClientRects().length);
  }

  /** What a deed came to is said under the bar until something else is said, or its reader closes it. */
  async ask(deed) {
    this.say("");
    const waits = setTimeout(() => this.say(BUSY), BUSY_MS);
    const answer = await deed();
    clearTimeout(waits);
    this.say(answer.error ? `✗ ${answer.error}` : answer.say ?? "");
  }

  say(text) {
    const held = this.close === document.activeElement;
    this.said.textContent = text;
    this.notice.hidden = !text;
    if (text) announce(text);
    if (held) this.node.focus();
  }

  /** Looks at what the page's forms say of themselves, whenever one of them says something else. */
  follow() {
    let due = false;
    const look = () => {
      due = false;
      this.draw();
    };
    new MutationObserver(() => {
      if (!due) requestAnimationFrame(look);
      due = true;
    }).observe(this.page, { subtree: true, childList: true, attributes: true, attributeFilter: ["data-unsaved"] });
    look();
  }

  /** Whether the page's Python is there. @param {boolean} alive */
  live(alive) {
    this.alive = alive;
    this.draw();
  }

  begun() {
    this.drawn = true;
    this.draw();
  }

  draw() {
    const forms = /** @type {HTMLElement[]} */ ([...this.page.querySelectorAll(UNSAVED)]).map((form) => form.dataset.unsaved);
    const found = savedState(forms, this.alive);
    const state = found === "saved" && !this.drawn ? "opening" : found;
    this.run.hidden = !["late", "stopped"].includes(state);
    if (this.saved.dataset.state === state) return;
    this.saved.dataset.state = state;
    this.saved.textContent = SAVED[state];
    if (state === "stopped") announce(SAVED[state]);
  }
}
