// @ts-check
// A button that folds and unfolds the rest of the box it is in.

import { h } from "./elements.js";
import { keepKeys } from "./keys.js";

function render({ model, el }) {
  const button = h("button", { type: "button", class: "fold", "aria-expanded": "false" });
  const row = h("div", { class: "alarm-fold-row" }, button);
  const name = () => { button.textContent = model.get("label"); };
  const box = () => button.closest(".alarm-fold");
  const fold = (closed) => {
    button.setAttribute("aria-expanded", String(!closed));
    box()?.classList.toggle("closed", closed);
  };
  button.addEventListener("click", () => fold(button.getAttribute("aria-expanded") === "true"));
  for (const kind of ["keydown", "keyup", "keypress"]) button.addEventListener(kind, keepKeys);
  model.on("change:label", name);
  el.append(row);
  name();
  // The box takes its parts in one after the other; this one is in it a moment later.
  const wait = () => (box() ? fold(true) : requestAnimationFrame(wait));
  wait();
  return () => model.off("change:label", name);
}

export default { render };
