// @ts-check
// A part of the page that Python draws again, in place, whenever what it says has changed.

import { announce } from "./announce.js";
import { h } from "./elements.js";
import { keepKeys } from "./keys.js";
import { initialize } from "./moved.js";
import { redrawn } from "./redrawn.js";
import { askFor } from "./reveal.js";

export function render({ model, el }) {
  const title = () => model.get("title");
  const drawing = h("div", { class: "drawing", tabindex: "-1" });
  const again = h("button", { type: "button" }, `Work it out again: ${title()}`);
  again.addEventListener("click", () => {
    again.disabled = true;
    again.textContent = "Working …";
    model.send({ kind: "draw" });
  });
  const veil = h("p", { class: "late" }, "Out of date: you changed something since this was worked out. ", again);
  const box = h("section", { class: "alarm-page", "aria-label": title() }, drawing);
  for (const kind of ["keydown", "keyup", "keypress"]) box.addEventListener(kind, keepKeys);

  const draw = () => {
    redrawn(drawing, model.get("html"));
    askFor(drawing, [...drawing.querySelectorAll("a[data-field]")].map((link) => link.dataset.field));
  };
  const date = () => {
    const late = model.get("late");
    if (late) box.prepend(veil);
    else veil.remove();
    box.classList.toggle("out-of-date", late);
    again.disabled = false;
    again.textContent = `Work it out again: ${title()}`;
  };
  const name = () => {
    box.setAttribute("aria-label", title());
    date();
  };
  const redraw = () => {
    draw();
    announce(title());
  };
  model.on("change:html", redraw);
  model.on("change:late", date);
  model.on("change:title", name);
  // What is in sight is drawn before the rest.
  const sight = new IntersectionObserver((seen) => {
    model.send({ kind: "sight", seen: seen.at(-1).isIntersecting });
  });
  sight.observe(box);
  el.append(box);
  draw();
  date();
  return () => {
    sight.disconnect();
    askFor(drawing, []);
    model.off("change:html", redraw);
    model.off("change:late", date);
    model.off("change:title", name);
  };
}

export default { initialize, render };
