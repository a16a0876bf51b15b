// @ts-check
// What the bar tells: where a page is among the pages that are there, its title, and what of its forms is saved.

/**
 * The pages that are there in reading order, and where one of them is among them. A listed name without a folder is a
 * page of every folder.
 * @param {string} path the open page @param {string[]} listed the library's own pages @param {string[]} there the names
 * in the page's folder
 */
export function around(path, listed, there) {
  const folder = path.slice(0, path.lastIndexOf("/") + 1);
  const own = new Set(listed.map((name) => (name.includes("/") ? name : folder + name)));
  const paths = there.map((name) => folder + name).filter((each) => own.has(each)).sort();
  const at = paths.indexOf(path);
  return { number: at + 1, count: paths.length, back: paths[at - 1] ?? null, next: at < 0 ? null : paths[at + 1] ?? null };
}

/** The first heading of a page, else the name of its file. @param {string[]} texts its cells @param {string} path */
export function titleOf(texts, path) {
  for (const text of texts) {
    const heading = /^#\s+(.+)$/m.exec(text);
    if (heading) return heading[1].trim();
  }
  return path.slice(path.lastIndexOf("/") + 1).replace(/\.ipynb$/, "");
}

export const SAVED = {
  opening: "Opening …",
  saved: "Saved",
  working: "Saving …",
  wrong: "Not saved: look at the marked field",
  late: "Not saved yet: Python is busy or stopped",
  stopped: "Python has stopped",
};
const WORST_FIRST = /** @type {(keyof typeof SAVED)[]} */ (["late", "wrong", "working"]);

/** How much of a page is saved. @param {string[]} forms what each form that is not saved says @param {boolean} alive */
export function savedState(forms, alive) {
  if (!alive) return "stopped";
  return WORST_FIRST.find((state) => forms.includes(state)) ?? "saved";
}
