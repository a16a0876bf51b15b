// @ts-check
// One polite line a page says which parts of it have changed, not each part for itself.

const ID = "alarm-announcer";
const PAUSE_MS = 400;
export const MOST_NAMED = 3;

/** What is read out. @param {string[]} titles */
export function toldOf(titles) {
  const named = titles.slice(0, MOST_NAMED);
  const more = titles.length - named.length;
  return `Changed: ${named.join(", ")}${more ? ` and ${more} more ${more === 1 ? "part" : "parts"} of this page` : ""}.`;
}

// The line, and the names that wait for it, belong to the document: every widget brings its own copy of this script.
function announcer() {
  const there = document.getElementById(ID);
  if (there) return there;
  const line = document.createElement("p");
  line.id = ID;
  line.setAttribute("role", "status");
  line.dataset.waiting = "[]";
  document.body.append(line);
  return line;
}

/** Has a sentence read out, also one that was the last already. @param {string} text */
export function speak(text) {
  const line = announcer();
  line.textContent = "";
  requestAnimationFrame(() => {
    if (!line.textContent) line.textContent = text;
  });
}

/** @param {string} title */
export function announce(title) {
  const line = announcer();
  const waiting = JSON.parse(line.dataset.waiting ?? "[]");
  if (!waiting.length) {
    setTimeout(() => {
      line.textContent = toldOf(JSON.parse(line.dataset.waiting ?? "[]"));
      line.dataset.waiting = "[]";
    }, PAUSE_MS);
  }
  if (!waiting.includes(title)) waiting.push(title);
  line.dataset.waiting = JSON.stringify(waiting);
}
