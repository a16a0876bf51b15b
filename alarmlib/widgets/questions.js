// @ts-check
// One question at a time: pick, Next, Back, and at the end all answers with a button each to change it.

import { h } from "./elements.js";
import { FormView } from "./form.js";

const CHECK = "check";

export class QuestionsView extends FormView {
  get lateText() {
    return "✗ Not saved: Python is busy or stopped. Run this page again, then give this answer again.";
  }

  get questions() {
    return this.model.get("questions");
  }

  get question() {
    return this.questions.find((each) => each.id === this.at);
  }

  build() {
    super.build();
    this.at = this.model.get("begin");
    this.came = this.at !== CHECK; // who opens the page long after the answers sees them folded
    this.changing = false;
    this.error = "";
    this.typed = null; // a number that was refused stays in its field
    this.area = h("div", { class: "question" });
    this.box.insertBefore(this.area, this.box.querySelector(":scope > .buttons"));
    this.moved = () => this.ask();
    this.model.on("change:questions", this.moved);
    this.ask();
  }

  close() {
    this.model.off("change:questions", this.moved);
    super.close();
  }

  // Draws the question that it is at; the keyboard stays where it was.
  ask() {
    if (this.at !== CHECK && !this.question) this.at = CHECK;
    const held = this.area.contains(document.activeElement) ? document.activeElement?.getAttribute("data-key") : null;
    const typed = this.area.querySelector("input[type=text]");
    const text = typed instanceof HTMLInputElement && typed === document.activeElement ? typed.value : null;
    const question = this.question;
    this.box.classList.toggle("checking", !question);
    this.area.replaceChildren(...(question ? this.drawn(question) : this.checked()));
    if (!held) return;
    const now = this.area.querySelector(`[data-key="${CSS.escape(held)}"]`) ?? this.area.querySelector("h3");
    if (now instanceof HTMLInputElement && text !== null) now.value = text;
    if (now instanceof HTMLElement) now.focus({ preventScroll: true });
  }

  drawn(question) {
    const place = this.questions.indexOf(question);
    const id = `${this.prefix}-question`;
    const notes = h("p", { class: "error", id: `${id}-error` }, this.error ? `✗ ${this.error}` : "");
    const wrong = question.wrong ? h("p", { class: "warning" }, `Not used: ${question.wrong}`) : null;
    const about = `${id}-help ${id}-error`;
    const groups = question.kind === "number"
      ? [this.number(question, about)]
      : question.groups.map((group, n) => this.group(question, group, n, about));
    return [
      h("p", { class: "place" }, `Question ${place + 1} of ${this.questions.length}`),
      h("h3", { tabindex: "-1", id: `${id}-title` }, question.title),
      h("p", { class: "help", id: `${id}-help` }, question.help),
      wrong,
      ...groups,
      notes,
      this.steps(question, place),
    ].filter((each) => each !== null);
  }

  // The options under one legend: boxes for several, round ones for one answer.
  group(question, group, n, about) {
    const several = question.groups.length > 1;
    const legend = h("legend", several ? {} : { class: "unseen" }, group.legend || question.title);
    const chips = h("div", { class: "chips" }, ...group.options.flatMap((option) => this.chip(question, group, n, option)));
    return h("fieldset", { class: "group", "aria-describedby": about }, legend, chips, group.add ? this.adder(question, group, n) : null);
  }

  chip(question, group, n, option) {
    const id = `${this.prefix}-${n}-${option.key}`;
    const one = question.kind === "one";
    const input = h("input", {
      type: one ? "radio" : "checkbox", id, name: `${this.prefix}-${question.id}`, "data-key": `${n}/${option.key}`,
    });
    input.checked = option.on;
    input.addEventListener("change", () => this.deed({
      kind: "pick", question: question.id, group: group.key, key: option.key, on: input.checked,
    }));
    const chip = h("span", { class: "chip" }, input, h("label", { for: id }, option.label));
    if (!option.more) return [chip];
    const more = h("button", { type: "button", class: "more", "data-key": `${n}/more/${option.key.replace(/:\d+$/, "")}` }, `+ ${option.more}`);
    more.addEventListener("click", () => this.deed({ kind: "more", question: question.id, group: group.key, key: option.key }));
    return [chip, more];
  }

  adder(question, group, n) {
    const id = `${this.prefix}-${n}-add`;
    const input = h("input", { type: "text", id, maxlength: "80", "data-key": `${n}/add` });
    const add = async () => {
      if (!input.value.trim()) return input.focus();
      const text = input.value;
      input.value = "";
      return this.deed({ kind: "add", question: question.id, group: group.key, text });
    };
    input.addEventListener("keydown", (event) => event.key === "Enter" && add());
    return h("div", { class: "adder" },
      h("label", { for: id }, group.add), input,
      h("button", { type: "button", "data-key": `${n}/adding`, click: add, "aria-label": `Add: ${group.add}${group.legend ? `, ${group.legend}` : ""}` }, "Add"));
  }

  number(question, about) {
    const id = `${this.prefix}-number`;
    const input = h("input", {
      type: "text", inputmode: "decimal", class: "number", id, "data-key": "number", "aria-labelledby": `${this.prefix}-question-title`,
      "aria-describedby": about, "aria-invalid": this.error ? "true" : null,
    });
    input.value = this.typed ?? question.text;
    input.addEventListener("keydown", (event) => event.key === "Enter" && this.next());
    input.addEventListener("change", () => this.write(question, input.value));
    return h("div", { class: "field" }, input);
  }

  steps(question, place) {
    const row = h("div", { class: "buttons steps" });
    if (place > 0) row.append(h("button", { type: "button", "data-key": "back", click: () => this.go(this.questions[place - 1].id) }, "Back"));
    row.append(h("button", { type: "button", class: "go", "data-key": "next", click: () => this.next() }, this.changing ? "Save this answer" : "Next"));
    if (question.unsure) {
      row.append(h("button", { type: "button", "data-key": "unsure", click: () => this.follow({ kind: "unknown", question: question.id }) }, "I do not know"));
    }
    if (this.questions.every((each) => each.said)) {
      row.append(h("button", { type: "button", "data-key": "check", click: () => this.go(CHECK) }, "Check your answers"));
    }
    return row;
  }

  // What is typed in the field of a number goes before it.
  async next() {
    const question = this.question;
    if (!question) return;
    const input = this.area.querySelector("input.number");
    if (input instanceof HTMLInputElement && input.value !== question.text) {
      const written = await this.write(question, input.value);
      if (!written) {
        this.area.querySelector("input.number")?.focus();
        return;
      }
    }
    await this.follow({ kind: "next", question: question.id });
  }

  async write(question, text) {
    this.typed = text;
    const written = await this.deed({ kind: "write", question: question.id, text });
    if (written) this.typed = null;
    return written;
  }

  async follow(deed) {
    const answer = await this.link.ask(deed);
    if (!answer.ok) {
      this.refuse(answer.error);
      this.area.querySelector("h3")?.focus({ preventScroll: true });
      return undefined;
    }
    this.say(answer);
    const open = this.questions.find((each) => !each.said);
    return this.go(this.changing ? open?.id ?? CHECK : answer.at);
  }

  // A pick, one more, a name, a number: saved at once.
  async deed(deed) {
    const answer = await this.link.ask(deed);
    if (!answer.ok) {
      this.refuse(answer.error);
      return false;
    }
    if (this.error) {
      this.error = "";
      this.ask();
    }
    this.say(answer);
    return true;
  }

  refuse(error) {
    this.error = error;
    this.said = "";
    this.ask();
    this.redraw(`✗ ${error}`);
  }

  go(id, changing = this.changing && id !== CHECK) {
    this.at = id;
    this.changing = changing;
    this.error = "";
    this.typed = null;
    this.ask();
    const title = this.area.querySelector("h3");
    title?.focus({ preventScroll: true });
    this.box.scrollIntoView({ block: "nearest" });
  }

  // All answers, each with its button; open ones say so.
  checked() {
    const rows = this.questions.map((each) => h("div", {},
      h("dt", {}, each.title),
      h("dd", {}, each.unknown ? "I do not know. The draft says what it assumes." : each.said || "Not answered yet",
        each.wrong ? h("p", { class: "warning" }, `Not used: ${each.wrong}`) : null),
      h("dd", { class: "change" }, h("button", {
        type: "button", "data-key": `change/${each.id}`, "aria-label": `Change: ${each.title}`, click: () => this.go(each.id, true),
      }, "Change"))));
    return [
      h("h3", { tabindex: "-1" }, "Check your answers"),
      h("p", { class: "help" }, "Change what is not right. The draft is below."),
      h("details", { open: this.came }, h("summary", { "data-key": "answers" }, "All your answers"), h("dl", { class: "answers" }, ...rows)),
    ];
  }
}
