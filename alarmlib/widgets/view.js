// @ts-check
// A part of the page that Python draws again, in place, whenever what it says has changed.

import { announce } from "./announce.js";
import { h } from "./elements.js";
import { keepKeys } from "./keys.js";

// What is unfolded and where the keyboard is, by the words of each part: both outlive a drawing.
function held(box) {
  const open = new Map([...box.querySelectorAll("details")].map((each) => [each.querySelector("summary")?.textContent, each.open]));
  const active = box.contains(document.activeElement) ? document.activeElement : null;
  return { open, focus: active ? { tag: active.tagName, words: active.textContent } : null };
}

function hold(box, { open, focus }) {
  for (const each of box.querySelectorAll("details")) {
    const was = open.get(each.querySelector("summary")?.textContent);
    if (was !== undefined) each.open = was;
  }
  if (!focus) return;
  const same = [...box.querySelectorAll(focus.tag)].find((each) => each.textContent === focus.words);
  if (same) same.focus({ preventScroll: true });
  else box.focus({ preventScroll: true });
}

function render({ model, el }) {
  const title = model.get("title");
  const drawing = h("div", { class: "drawing", tabindex: "-1" });
  const again = h("button", { type: "button" }, `Work it out again: ${title}`);
  again.addEventListener("click", () => {
    again.disabled = true;
    again.textContent = "Working …";
    model.send({ kind: "draw" });
  });
  const veil = h("p", { class: "late" }, "Out of date: you changed something since this was worked out. ", again);
  const box = h("section", { class: "alarm-page", "aria-label": title }, drawing);
  for (const kind of ["keydown", "keyup", "keypress"]) box.addEventListener(kind, keepKeys);

  const draw = () => {
    const before = held(drawing);
    drawing.innerHTML = model.get("html");
    hold(drawing, before);
  };
  const date = () => {
    const late = model.get("late");
    if (late) box.prepend(veil);
    else veil.remove();
    box.classList.toggle("out-of-date", late);
    again.disabled = false;
    again.textContent = `Work it out again: ${title}`;
  };
  const redraw = () => {
    draw();
    announce(title);
  };
  model.on("change:html", redraw);
  model.on("change:late", date);
  el.append(box);
  draw();
  date();
  return () => {
    model.off("change:html", redraw);
    model.off("change:late", date);
  };
}

export default { render };
