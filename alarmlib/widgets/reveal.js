// @ts-check
// The way to a field: what hides it is unfolded, and the keyboard is put into it.
// A field is named by its path in the home, "devices/hall/range_m"; "devices/hall" is its row, "devices" the list.

/**
 * @typedef {{ box: HTMLElement, reveal(path: string): boolean, openAsked(paths: Set<string>): void }} Form
 * @typedef {{ forms: Set<Form>, asked: Map<object, string[]>, heard: boolean }} Shared
 */

const WANTED = "alarm:field"; // kept in this tab while the page turns
const ATTACHED_MS = 200; // by then a new form is on the page
const LOOK_MS = 400;
const LOOKS = 10;
const SHARED = Symbol.for("alarm.fields"); // one list for all scripts of the page: each brings its own copy of this one
const page = /** @type {Record<symbol, Shared>} */ (/** @type {unknown} */ (globalThis));
const shared = (page[SHARED] ??= { forms: new Set(), asked: new Map(), heard: false });

const here = () => [...shared.forms].filter((form) => form.box.isConnected);

/** Goes to a field of this page. False where no form of this page has it. @param {string} path */
export function goTo(path) {
  return here().some((form) => form.reveal(path));
}

// What is above a field may still be drawn: the field is kept in sight until its reader does something.
function keepInSight() {
  const at = document.activeElement;
  const ends = new AbortController();
  const stop = () => ends.abort();
  for (const deed of ["wheel", "pointerdown", "keydown"]) window.addEventListener(deed, stop, { capture: true, once: true, signal: ends.signal });
  const look = () => !ends.signal.aborted && document.activeElement === at && at?.scrollIntoView({ block: "center" });
  for (let n = 1; n <= LOOKS; n += 1) setTimeout(look, n * LOOK_MS);
  setTimeout(stop, LOOKS * LOOK_MS);
}

// Goes to the field that a link on the page before named, once its form is here.
function arrive() {
  const path = sessionStorage.getItem(WANTED);
  if (!path || !goTo(path)) return;
  sessionStorage.removeItem(WANTED);
  keepInSight();
}

const allAsked = () => new Set([...shared.asked.values()].flat());

/** What a part of the page asks for: forms open what hides these fields. @param {object} who @param {string[]} paths */
export function askFor(who, paths) {
  if (paths.length) shared.asked.set(who, paths);
  else if (!shared.asked.delete(who)) return;
  for (const form of here()) form.openAsked(allAsked());
}

/** A form of the page; gives what takes it away again. @param {Form} form */
export function enlist(form) {
  shared.forms.add(form);
  form.openAsked(allAsked());
  listen();
  setTimeout(arrive, ATTACHED_MS);
  return () => shared.forms.delete(form);
}

// On the window, and before anybody else: the workbook turns its page on the document.
function listen() {
  if (shared.heard) return;
  shared.heard = true;
  window.addEventListener("click", (event) => {
    const link = event.target instanceof Element && event.target.closest("a[data-field]");
    const path = link && link.getAttribute("data-field");
    if (!path || event.ctrlKey || event.metaKey) return;
    if (goTo(path)) {
      event.preventDefault();
      event.stopPropagation();
    } else sessionStorage.setItem(WANTED, path);
  }, true);
}
