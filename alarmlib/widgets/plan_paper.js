// @ts-check
// A photo or sketch under the plan: it stays in this page and is never sent to Python nor saved.

import { h, s } from "./elements.js";

export class TracingPaper {
  constructor(view) {
    this.view = view;
    const id = `${view.prefix}-paper`;
    this.file = h("input", { type: "file", id, accept: "image/*" });
    this.wide = h("input", { type: "number", id: `${id}-wide`, min: "0.5", max: "200", step: "0.1", value: "10" });
    this.strong = h("input", { type: "number", id: `${id}-strong`, min: "10", max: "100", step: "10", value: "40" });
    this.move = h("input", { type: "checkbox", id: `${id}-move` });
    this.at = [0, 0];
    this.file.addEventListener("change", () => this.take(this.file.files[0]));
    for (const input of [this.wide, this.strong]) input.addEventListener("input", () => this.draw());
    const off = h("button", { type: "button", click: () => this.take(null) }, "Take the picture away");
    this.element = h("details", { class: "tracing" }, h("summary", {}, "Tracing paper"),
      h("p", { class: "help" }, "A photo or sketch under the plan, to draw over. It stays in this page: it is not sent and not saved."),
      h("div", { class: "grid" },
        h("div", { class: "field" }, h("label", { for: id }, "Picture"), this.file),
        h("div", { class: "field" }, h("label", { for: this.wide.id }, "Width on the plan (m)"), this.wide),
        h("div", { class: "field" }, h("label", { for: this.strong.id }, "Strength (%)"), this.strong),
        h("div", { class: "tick" }, this.move, h("label", { for: this.move.id }, "Dragging moves the picture")), off));
  }

  get moving() {
    return this.move.checked && Boolean(this.image);
  }

  take(file) {
    if (this.address) URL.revokeObjectURL(this.address);
    this.address = file ? URL.createObjectURL(file) : null;
    this.image = null;
    if (!file) {
      this.file.value = "";
      this.draw();
      return;
    }
    const image = new Image();
    image.addEventListener("load", () => {
      this.image = image;
      this.draw();
      this.view.redraw("The picture lies under the plan; it is not saved.");
    });
    image.addEventListener("error", () => this.view.redraw("✗ That file is not a picture that can be shown."));
    image.src = this.address;
  }

  slide(by) {
    this.at = [this.at[0] + by[0], this.at[1] + by[1]];
    this.draw();
  }

  draw() {
    const { paper } = this.view.drawing;
    if (!this.image) {
      paper.replaceChildren();
      return;
    }
    const wide = Number(this.wide.value) || 10;
    const tall = (wide * this.image.naturalHeight) / this.image.naturalWidth;
    paper.replaceChildren(s("image", {
      href: this.address, x: this.at[0], y: -this.at[1] - tall, width: wide, height: tall, opacity: (Number(this.strong.value) || 40) / 100,
    }));
  }
}
