// @ts-check
// What Python sends when something moved: only that, put into the model as if all had come.

/** @typedef {Record<string, any>} State */
/**
 * @typedef {{ keys: Record<string, Part>, gone: string[] }} Keys @typedef {{ things: Record<string, Part>, order: string[] }} Things
 * @typedef {{ at: number, to: number, text: string }} Stretch @typedef {{ all: any }} Whole
 * @typedef {Keys | Things | Stretch | Whole} Part what differs, as `moved.py` says it
 */
/** @typedef {{ get(name: string): any, set(state: State): void, on: Function, send: Function }} Model */

/**
 * A part as it is after what moved in it; what did not move is the same object as before.
 * @param {any} before @param {Part} moved @returns {any}
 */
export function after(before, moved) {
  if ("all" in moved) return moved.all;
  if ("text" in moved) return before.slice(0, moved.at) + moved.text + before.slice(moved.to);
  if ("order" in moved) {
    const was = new Map(before.map((/** @type {any} */ each) => [each.id, each]));
    return moved.order.map((id) => (id in moved.things ? after(was.get(id), moved.things[id]) : was.get(id)));
  }
  const found = { ...before };
  for (const [key, part] of Object.entries(moved.keys)) found[key] = after(found[key], part);
  for (const key of moved.gone) delete found[key];
  return found;
}

/**
 * Keeps the model whole, for all its views. Where a message was missed, the whole is asked for.
 * @param {{ model: Model }} widget
 */
export function initialize({ model }) {
  let turn = model.get("turn");
  const take = () => {
    const { turn: next, keys } = model.get("moved");
    if (!(next > turn)) return;
    if (next > turn + 1) {
      model.send({ kind: "whole" });
      return;
    }
    turn = next;
    model.set(Object.fromEntries(Object.entries(keys).map(([name, part]) => [name, after(model.get(name), part)])));
  };
  model.on("change:turn", () => { turn = model.get("turn"); });
  model.on("change:moved", take);
  take();
}
