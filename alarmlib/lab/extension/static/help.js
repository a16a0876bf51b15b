// @ts-check
// The short help of the bar, as a dialog: what each button does, keys, where the home file is, the notebook's tools.

import { make } from "./bar.js";

const TERMS = [
  ["Saved", "Each change is saved at once, so there is nothing to save yourself. “Not saved” says what is wrong."],
  ["Undo", "Takes back the last change of your home, on whichever page you made it. Press it again for the one before."],
  ["Back, Next", "Turn the page in this window. The browser’s own Back and Forward do the same."],
  ["Print", "Opens a sheet of this page in a new tab, made for A4 and Letter. Print it there."],
  ["Keys", "Tab goes from field to field. Space presses a button or a tick. Arrows choose from a list. Escape closes this help."],
  ["Help for a field", "The line under a field says where its answer is found. Leave it blank if you do not know."],
];
const HOME = "It is on this computer, in the folder of this page. Copy that file elsewhere, so that you have a second one.";
const TOOLS = "Notebook tools: show Jupyter’s menus and the marks of cells";

/**
 * Shows the help. Escape closes it, and the reader is where they were before.
 * @param {Promise<string>} place where the home file is
 * @param {{ tools: boolean, again: () => void, showTools: (shown: boolean) => void }} page
 */
export function showHelp(place, { tools, again, showTools }) {
  const close = make("button", { type: "button" }, "Close");
  const run = make("button", { type: "button" }, "Run this page again");
  const tick = /** @type {HTMLInputElement} */ (make("input", { type: "checkbox", role: "switch" }));
  tick.checked = tools;
  const home = make("dd", {}, HOME);
  place.then((file) => {
    home.textContent = `${file} on this computer. Copy that file elsewhere, so that you have a second one.`;
  });
  const dialog = /** @type {HTMLDialogElement} */ (make("dialog",
    { class: "alarmlib-help", role: "dialog", "aria-labelledby": "alarmlib-help-title" },
    make("h2", { id: "alarmlib-help-title" }, "Help"),
    make("dl", {}, 
      ...TERMS.flatMap(([term, text]) => [make("dt", {}, term), make("dd", {}, text)]),
      make("dt", {}, "Your home file"), home),
    make("p", {}, make("label", {}, tick, ` ${TOOLS}`)),
    make("p", { class: "doing" }, run, close)));
  const end = () => dialog.close();
  close.addEventListener("click", end);
  run.addEventListener("click", () => {
    end();
    again();
  });
  tick.addEventListener("change", () => showTools(tick.checked));
  dialog.addEventListener("keydown", (event) => event.stopPropagation());
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
  close.focus();
}
