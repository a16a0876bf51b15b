// @ts-check
// What goes with the chosen tool: which object of the tables is drawn or a new one, of which kind, and all by numbers.

import { h } from "./elements.js";

const NEW = "";

export class ToolFields {
  constructor(view) {
    this.view = view;
    const id = `${view.prefix}-typed`;
    this.text = h("input", { type: "text", id, autocomplete: "off", "aria-describedby": `${id}-help ${id}-error` });
    this.textLabel = h("label", { for: id }, "Corners");
    this.help = h("p", { class: "help", id: `${id}-help` });
    this.error = h("p", { class: "error", id: `${id}-error`, role: "alert" });
    this.kinds = h("select", { id: `${id}-kind` });
    this.waiting = h("select", { id: `${id}-waiting`, "aria-describedby": `${id}-waiting-help` });
    this.kindField = h("div", { class: "field" }, h("label", { for: this.kinds.id }, "Kind"), this.kinds);
    this.waitingField = h("div", { class: "field" }, h("label", { for: this.waiting.id }, "Which one"), this.waiting,
      h("p", { class: "help", id: `${id}-waiting-help` }, "Choose what the tables have and the plan does not show yet, or a new one."));
    this.element = h("div", { class: "typed grid", hidden: true },
      this.waitingField, this.kindField,
      h("div", { class: "field" }, this.textLabel, this.text, this.help, this.error),
      h("div", { class: "field" }, view.button("Draw what is typed", () => view.drawTyped()), view.button("Drop it", () => view.dropDraft())));
    this.text.addEventListener("keydown", (event) => event.key === "Enter" && view.drawTyped());
    this.waiting.addEventListener("change", () => this.picked());
  }

  show(tool) {
    this.fail("");
    this.element.hidden = !tool;
    this.wantsNew = false;
    this.waiting.replaceChildren();
    if (!tool) return;
    const place = tool.by === "point";
    this.textLabel.textContent = place ? "Place" : "Corners, or a rectangle";
    this.help.textContent = `${tool.help} Or type ${place ? "a place such as 1.5, 3" : "4.2 x 3.1 at 0, 0, or corners such as 0, 0; 4, 0; 4, 3"}.`;
    this.text.value = "";
    this.kinds.replaceChildren(...tool.kinds.map(([value, text]) => h("option", { value }, text)));
    this.offer(tool);
  }

  // What waits for its place comes before a new one and is taken first; what is on its way to Python waits no more.
  offer(tool) {
    const sent = this.view.sent.map(({ id }) => id);
    const unplaced = tool ? this.view.scene.unplaced[tool.what] : [];
    const waiting = unplaced.filter(([id]) => !sent.includes(id));
    const before = this.waiting.value;
    const listed = JSON.stringify(waiting);
    if (listed !== this.listed || !this.waiting.options.length) {
      this.waiting.replaceChildren(...waiting.map(([id, name]) => h("option", { value: id }, name)), h("option", { value: NEW }, "a new one"));
    }
    this.listed = listed;
    const stays = !this.wantsNew && waiting.some(([id]) => id === before);
    this.waiting.value = stays ? before : this.wantsNew ? NEW : waiting[0]?.[0] ?? NEW;
    this.waitingField.hidden = !waiting.length;
    this.kindField.hidden = !tool?.kinds.length || this.waiting.value !== NEW;
  }

  picked() {
    this.wantsNew = this.waiting.value === NEW;
    this.offer(this.view.tool);
  }

  // The kind and the object that a drawing was made for, when it is shown again.
  take({ of, id }) {
    this.kinds.value = of || this.kinds.value;
    this.wantsNew = id === NEW;
    this.waiting.value = id;
    this.offer(this.view.tool);
  }

  asked() {
    return { of: this.kinds.value, id: this.waiting.value };
  }

  // The name of what is drawn next, when the tables hold it.
  get next() {
    return this.waiting.value === NEW ? "" : this.waiting.selectedOptions[0]?.text ?? "";
  }

  emptied(text) {
    if (this.text.value === text) this.text.value = "";
  }

  fail(error) {
    this.error.textContent = error;
    this.text.setAttribute("aria-invalid", error ? "true" : "false");
  }
}
