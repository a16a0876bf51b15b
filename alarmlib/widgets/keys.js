// @ts-check
// Which keys a form keeps from the notebook around it.

// Keys belong to the form, or a letter on a drop-down would be a command to the notebook. Ctrl and Cmd go
// through, so that saving works, except the ones that edit text. Pressed alone they stay too: the notebook
// makes something of them, after which the browser's own undo in a text field does nothing.
const EDITS = ["a", "c", "v", "x", "y", "z", "enter", "backspace", "delete", "home", "end"];
const ALONE = ["control", "meta", "shift", "alt"];

/** Whether the form keeps this key. @param {{ key: string, ctrlKey: boolean, metaKey: boolean, altKey: boolean }} event */
export function isOurs(event) {
  const command = (event.ctrlKey || event.metaKey) && !event.altKey;
  const key = event.key.toLowerCase();
  return !command || [...EDITS, ...ALONE].includes(key) || key.startsWith("arrow");
}

/** @param {KeyboardEvent} event */
export function keepKeys(event) {
  if (isOurs(event)) event.stopPropagation();
}
