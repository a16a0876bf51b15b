// @ts-check
// What is folded away behind a button. What its reader opened or closed stays so, also when the page is run again.

import { h } from "./elements.js";

export class Fold {
  /**
   * @param {string} name under which the reader's choice is kept in this tab @param {HTMLElement} part what is folded
   * @param {(open: boolean) => { text: string, label?: string }} told what the button says
   */
  constructor(name, part, told) {
    this.name = `alarm-open:${name}`;
    this.part = part;
    this.told = told;
    this.button = h("button", { type: "button", class: "fold", "aria-controls": part.id, click: () => this.turn(!this.open) });
    this.chosen = this.load();
    this.open = false;
    this.set(this.chosen ?? false);
  }

  /** @returns {boolean | null} what the reader chose; null: nothing yet */
  load() {
    try {
      const kept = sessionStorage.getItem(this.name);
      return kept && kept === "open";
    } catch {
      return null; // no session storage here
    }
  }

  /** Opens or closes it as long as its reader has not. @param {boolean} open */
  begin(open) {
    if (this.chosen === null) this.set(open);
  }

  /** The reader's own deed. @param {boolean} open */
  turn(open) {
    this.chosen = open;
    try {
      sessionStorage.setItem(this.name, open ? "open" : "closed");
    } catch {
      // full or forbidden: it holds until the page is run again
    }
    this.set(open);
  }

  /** @param {boolean} open */
  set(open) {
    this.open = open;
    this.part.classList.toggle("away", !open);
    this.button.setAttribute("aria-expanded", open ? "true" : "false");
    this.tell();
  }

  tell() {
    const { text, label } = this.told(this.open);
    if (this.button.textContent !== text) this.button.textContent = text;
    if (label) this.button.setAttribute("aria-label", label);
  }
}

/** What the button before the less needed fields says. @param {number} filled */
export const moreTold = (filled) => (filled ? `More (${filled} filled in)` : "More");
