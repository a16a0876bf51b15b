// @ts-check
// Unsaved texts by form: in the page's memory and, for a reload, in this tab's session storage.

/** @typedef {any} Kept a field's entry, or the drawings of a plan: each part of a form reads its own */

const SHARED = Symbol.for("alarm.kept"); // one memory for all forms of the page, whichever was loaded first
const page = /** @type {Record<symbol, Map<string, Record<string, Kept>>>} */ (/** @type {unknown} */ (globalThis));

export const kept = {
  memory: (page[SHARED] ??= new Map()),
  /** The form's unsaved texts by field. @param {string} key @returns {Record<string, Kept>} */
  load(key) {
    const known = this.memory.get(key);
    if (known) return known;
    /** @type {Record<string, Kept>} */
    let found = {};
    try {
      found = JSON.parse(sessionStorage.getItem(`alarm:${key}`) ?? "null") ?? {};
    } catch {
      // no session storage here: the page's memory alone keeps them
    }
    this.memory.set(key, found);
    return found;
  },
  /** Keeps an entry; null: it is saved or dropped. @param {string} key @param {string} id @param {Kept | null} entry */
  put(key, id, entry) {
    const all = this.load(key);
    if (entry) all[id] = entry;
    else delete all[id];
    try {
      sessionStorage.setItem(`alarm:${key}`, JSON.stringify(all));
    } catch {
      // full or forbidden: the page's memory alone keeps them
    }
  },
};

/**
 * The place of a text that was typed in an earlier version of the page, where its field's name is another now.
 * @param {string} id @param {(id: string) => boolean} isHere @param {Record<string, string>} renamed
 */
export function placeNow(id, isHere, renamed) {
  if (isHere(id)) return id;
  const now = id.split("/").map((name) => renamed[name] ?? name).join("/");
  if (isHere(now)) return now;
  // a row's own name stays as it is, whatever it is called
  const [row, ...path] = id.split("/");
  return [row, ...path.map((name) => renamed[name] ?? name)].join("/");
}
