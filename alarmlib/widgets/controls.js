// One control for each way of asking: `parts` to place, `get` and `set` its text, `offer` new choices.

function makeControl(field, id, labels) {
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
    if (!has(text)) select.append(h("option", { value: text }, text ? `${text} (no longer a choice)` : "not said"));
    select.value = text;
  };
  const offer = (choices) => {
    const before = select.value;
    select.replaceChildren(...choices.map(([value, text]) => h("option", { value }, text)));
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

function makeMulti(field, id, labels) {
  const box = h("div", { class: "ticks", id, role: "group", ...labels });
  const inputs = () => [...box.querySelectorAll("input")];
  let order = [];
  const get = () =>
    order.concat(inputs().map((input) => input.value).filter((value) => !order.includes(value)))
      .filter((value) => inputs().some((input) => input.value === value && input.checked))
      .join(",");
  const set = (text) => {
    order = text.split(",").filter(Boolean);
    for (const input of inputs()) input.checked = order.includes(input.value);
  };
  const offer = (choices) => {
    const chosen = order;
    box.classList.toggle("lines", choices.some(([, text]) => text.length > LONG_CHOICE)); // sentences: one a line, in order
    box.replaceChildren(
      ...choices.map(([value, text], n) =>
        h("span", { class: "tick" },
          h("input", { type: "checkbox", id: `${id}-${n}`, value }),
          h("label", { for: `${id}-${n}` }, text)),
      ),
    );
    if (!choices.length) box.append(h("span", { class: "help" }, "Nothing to choose from yet."));
    set(chosen.join(","));
  };
  return { box, inputs, get, set, offer };
}
