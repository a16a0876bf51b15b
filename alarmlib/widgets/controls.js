// @ts-check
// One control for each way of asking: `parts` to place, `get` and `set` its text, `offer` new choices.

import { h } from "./elements.js";

export function makeControl(field, id, labels) {
  const makers = { tick: makeTick, multi: makeMulti, choice: makeChoice, longtext: makeLongText };
  const control = (makers[field.control] ?? makeLine)(field, id, labels);
  return {
    instant: field.control === "tick" || field.control === "multi" || field.control === "choice",
    offer() {},
    focus: () => (control.inputs()[0] ?? control.box).focus(),
    focused: () => control.box.contains(document.activeElement),
    mark(bad) {
      for (const input of control.inputs()) {
        if (bad) input.setAttribute("aria-invalid", "true");
        else input.removeAttribute("aria-invalid");
      }
    },
    ...control,
  };
}

function makeLine(field, id, labels) {
  const number = field.control === "number";
  const input = h("input", {
    id,
    type: field.control === "date" ? "date" : "text",
    class: number ? "number" : field.control,
    inputmode: number && field.plain ? "decimal" : null,
    autocomplete: "off",
    "aria-required": field.required ? "true" : null,
    ...labels,
  });
  return oneInput(input);
}

function makeLongText(field, id, labels) {
  return oneInput(h("textarea", { id, rows: field.rows ?? 3, ...labels }));
}

function oneInput(input) {
  const set = (text) => {
    if (input.value !== text) input.value = text;
  };
  return { box: input, inputs: () => [input], get: () => input.value, set };
}

function makeChoice(field, id, labels) {
  const select = h("select", { id, "aria-required": field.required ? "true" : null, ...labels });
  const has = (value) => [...select.options].some((option) => option.value === value);
  const set = (text) => {
    if (!has(text)) select.append(h("option", { value: text }, text ? `${text} (no longer a choice)` : "not answered yet"));
    select.value = text;
  };
  const offer = (choices) => {
    const before = select.value;
    select.replaceChildren(...choices.map(([value, text]) => h("option", { value }, text)));
    select.classList.toggle("long", choices.some(([, text]) => text.length > LONG_CHOICE));
    set(before);
  };
  return { box: select, inputs: () => [select], get: () => select.value, set, offer };
}

function makeTick(field, id, labels) {
  const input = h("input", { id, type: "checkbox", ...labels });
  const set = (text) => {
    input.checked = text === "yes";
  };
  return { box: input, inputs: () => [input], get: () => (input.checked ? "yes" : ""), set };
}

const LONG_CHOICE = 40;
const MANY_CHOICES = 6;

// Ticks for each choice; many short ones are folded away behind the names of those chosen.
function makeMulti(field, id, labels) {
  const ticks = h("div", { class: "ticks" });
  const told = h("summary");
  const folded = h("details", { class: "choices" }, told, ticks);
  const box = h("div", { id, role: "group", ...labels });
  const inputs = () => [...ticks.querySelectorAll("input")];
  let choices = [];
  let order = [];
  const isFolded = () => box.contains(folded);
  const chosen = () => order.filter((value) => choices.some(([each]) => each === value));
  const get = () => chosen().join(",");
  const tell = () => {
    const names = chosen().map((value) => choices.find(([each]) => each === value)[1]);
    told.textContent = names.join("; ") || "None chosen";
    told.setAttribute("aria-label", `${field.caption}: ${told.textContent}`);
    for (const input of inputs()) input.checked = order.includes(input.value);
  };
  const build = (open = folded.open) => {
    const shown = isFolded() && !open ? [] : choices; // what is folded away is built once it is unfolded
    ticks.replaceChildren(
      ...shown.map(([value, text], n) =>
        h("span", { class: "tick" },
          h("input", { type: "checkbox", id: `${id}-${n}`, value }),
          h("label", { for: `${id}-${n}` }, text)),
      ),
    );
    if (!choices.length) ticks.append(h("span", { class: "help" }, "Nothing to choose from yet."));
    tell();
  };
  const set = (text) => {
    order = text.split(",").filter(Boolean);
    tell();
  };
  const offer = (offered) => {
    choices = offered;
    const lines = choices.some(([, text]) => text.length > LONG_CHOICE); // sentences: one a line, in order
    ticks.classList.toggle("lines", lines);
    const fold = choices.length > MANY_CHOICES && !lines;
    if (box.firstChild !== (fold ? folded : ticks)) {
      box.replaceChildren(fold ? folded : ticks);
      if (fold) folded.append(ticks);
    }
    build();
  };
  box.addEventListener("input", ({ target }) => {
    order = [...order.filter((value) => value !== target.value), ...(target.checked ? [target.value] : [])];
    tell();
  });
  told.addEventListener("click", () => folded.open || build(true)); // at once: the next key may be Tab
  folded.addEventListener("toggle", () => folded.open === Boolean(inputs().length) || build());
  const focus = () => (isFolded() ? told : inputs()[0] ?? box).focus();
  return { box, inputs, get, set, offer, focus };
}
