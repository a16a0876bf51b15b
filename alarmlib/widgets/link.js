// The line to Python: numbered questions, their answers, and texts that are kept until Python has them.

const LATE_MS = 2500;

// Unsaved texts by form: in the page's memory and, for a reload, in this tab's session storage.
const kept = {
  memory: (globalThis[Symbol.for("alarm.kept")] ??= new Map()),
  load(key) {
    if (this.memory.has(key)) return this.memory.get(key);
    let found = {};
    try {
      found = JSON.parse(sessionStorage.getItem(`alarm:${key}`)) ?? {};
    } catch {
      // no session storage here: the page's memory alone keeps them
    }
    this.memory.set(key, found);
    return found;
  },
  put(key, id, entry) {
    const all = this.load(key);
    if (entry) all[id] = entry;
    else delete all[id];
    try {
      sessionStorage.setItem(`alarm:${key}`, JSON.stringify(all));
    } catch {
      // full or forbidden: the page's memory alone keeps them
    }
  },
};

class Link {
  constructor(model, changed) {
    this.model = model;
    this.changed = changed;
    this.client = Math.random().toString(36).slice(2);
    this.seq = 0;
    this.waiting = new Map();
    this.heard = (message, buffers) => this.answer(message, buffers);
    model.on("msg:custom", this.heard);
  }

  // Sends a question and gives a promise of its answer; a quiet one is not work that could be lost.
  ask(message, { quiet = false, buffers = [] } = {}) {
    const seq = ++this.seq;
    return new Promise((resolve) => {
      this.waiting.set(seq, { resolve, quiet, since: Date.now() });
      setTimeout(this.changed, LATE_MS + 20);
      try {
        this.model.send({ ...message, client: this.client, seq }, undefined, buffers);
      } catch {
        // the line is dead: the question stays unanswered and is shown as not saved
      }
      this.changed();
    });
  }

  answer(message, buffers) {
    if (message.client !== this.client || !this.waiting.has(message.seq)) return;
    const { resolve } = this.waiting.get(message.seq);
    this.waiting.delete(message.seq);
    resolve({ ...message, buffers });
  }

  get open() {
    return [...this.waiting.values()].filter((each) => !each.quiet);
  }

  get late() {
    return this.open.some((each) => Date.now() - each.since >= LATE_MS);
  }

  close() {
    this.model.off("msg:custom", this.heard);
  }
}

// An element: h("p", { class: "help", id }, "text", child).
function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== undefined && value !== null) element.setAttribute(name, value);
  }
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}
