// @ts-check
// A view whose links lead to a form of this page, and whose buttons ask Python to do something.

import { h } from "./elements.js";
import { initialize } from "./moved.js";
import { render as drawView } from "./view.js";

/** The form of this page with that title. @param {string} title */
const formOf = (title) => [...document.querySelectorAll(".alarm-form")]
  .find((form) => form.getClientRects().length && form.querySelector(":scope > legend")?.textContent === title);

/** Opens what folds it. @param {Element | null | undefined} part */
export function unfolded(part) {
  const fold = part?.closest(".alarm-fold.closed")?.querySelector("button[aria-expanded=false]");
  if (fold instanceof HTMLElement) fold.click();
  return part;
}

/** Shows a form and puts the keyboard in it. @param {string} title */
export function goToForm(title) {
  const hidden = [...document.querySelectorAll(".alarm-fold.closed .alarm-form > legend")];
  unfolded(hidden.find((legend) => legend.textContent === title));
  const form = formOf(title);
  if (!form) return false;
  form.scrollIntoView({ block: "start" });
  const first = [...form.querySelectorAll("h3[tabindex], input, select, textarea, button")]
    .find((each) => each.getClientRects().length);
  if (first instanceof HTMLElement) first.focus({ preventScroll: true });
  return true;
}

function render({ model, el }) {
  const close = drawView({ model, el });
  const status = h("p", { role: "status" });
  const box = el.querySelector(".alarm-page");
  box.append(status);
  box.addEventListener("click", (event) => {
    const link = event.target.closest("[data-goto]");
    const button = event.target.closest("[data-do]");
    if (link) goToForm(link.dataset.goto);
    if (button) model.send({ kind: "do", name: button.dataset.do });
  });
  const say = () => { status.textContent = model.get("said"); };
  model.on("change:said", say);
  say();
  return () => {
    model.off("change:said", say);
    close();
  };
}

export default { initialize, render };
