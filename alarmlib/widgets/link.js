// @ts-check
// The line to Python: numbered questions and their answers.

/** @typedef {Record<string, any>} Message what is asked, and what Python answers */
/** @typedef {{ on: Function, off: Function, send: Function }} Model the widget's model, as far as a line needs it */

export const LATE_MS = 2500;
const DEEDS = ["action", "upload", "download"]; // whose answer is told even when the form was built again meanwhile

export class Link {
  /** @param {Model} model @param {() => void} changed is told when a question was sent and when it is late */
  constructor(model, changed) {
    this.model = model;
    this.changed = changed;
    this.client = Math.random().toString(36).slice(2);
    this.seq = 0;
    this.closing = false;
    /** @type {Map<number, { kind: string, resolve: (answer: Message) => void, quiet: boolean, since: number }>} */
    this.waiting = new Map();
    this.heard = (/** @type {Message} */ message, /** @type {DataView[]} */ buffers) => this.answer(message, buffers);
    model.on("msg:custom", this.heard);
  }

  /**
   * Sends a question and gives a promise of its answer; a quiet one is not work that could be lost.
   * @param {Message} message @param {{ quiet?: boolean, buffers?: ArrayBuffer[] }} options @returns {Promise<Message>}
   */
  ask(message, { quiet = false, buffers = [] } = {}) {
    const seq = ++this.seq;
    return new Promise((resolve) => {
      this.waiting.set(seq, { kind: message.kind, resolve, quiet, since: Date.now() });
      setTimeout(this.changed, LATE_MS + 20);
      try {
        this.model.send({ ...message, client: this.client, seq }, undefined, buffers);
      } catch {
        // the line is dead: the question stays unanswered and is shown as not saved
      }
      this.changed();
    });
  }

  /** @param {Message} message @param {DataView[]} buffers */
  answer(message, buffers) {
    const asked = message.client === this.client ? this.waiting.get(message.seq) : undefined;
    if (!asked || (this.closing && !DEEDS.includes(asked.kind))) return;
    this.waiting.delete(message.seq);
    asked.resolve({ ...message, buffers });
    this.rest();
  }

  get open() {
    return [...this.waiting.values()].filter((each) => !each.quiet);
  }

  get late() {
    return this.open.some((each) => Date.now() - each.since >= LATE_MS);
  }

  // A deed that is on its way is waited for; texts are sent again by the form that comes after.
  close() {
    this.closing = true;
    this.rest();
  }

  rest() {
    const deeds = [...this.waiting.values()].some(({ kind }) => DEEDS.includes(kind));
    if (this.closing && !deeds) this.model.off("msg:custom", this.heard);
  }
}

// Questions asked while the hand moves: one at a time, the newest last. After `stop` no answer is shown any more.
export class Newest {
  /** @param {Pick<Link, "ask">} link @param {(question: Message, answer: Message) => void} show */
  constructor(link, show) {
    this.link = link;
    this.show = show;
    /** @type {Message | null} */
    this.wanted = null;
    this.busy = false;
    this.turn = 0;
  }

  /** @param {Message} question */
  async want(question) {
    this.wanted = question;
    if (this.busy) return;
    this.busy = true;
    while (this.wanted) {
      const [asked, turn] = /** @type {[Message, number]} */ ([this.wanted, this.turn]);
      this.wanted = null;
      const answer = await this.link.ask(asked, { quiet: true });
      if (answer.ok && turn === this.turn) this.show(asked, answer);
    }
    this.busy = false;
  }

  stop() {
    this.wanted = null;
    this.turn += 1;
  }
}
