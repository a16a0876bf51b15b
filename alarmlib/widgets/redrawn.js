// @ts-check
// Draws a part of the page again where it stands: what says the same stays, with all that its reader did to it.

const SAID = 60; // characters; by so many of its words a part is known again

// What a node is known by among its neighbours: its kind, and its name, heading or first cell.
function known(node) {
  if (node.nodeType !== Node.ELEMENT_NODE) return `${node.nodeName} ${node.nodeValue}`;
  const head = node.querySelector("summary, caption, legend, title, th, h2, h3, h4, td");
  return `${node.nodeName} ${node.id || (head ?? node).textContent.slice(0, SAID)}`;
}

// Attributes as in the fresh one; whether a fold is open is its reader's matter.
function dress(old, fresh) {
  for (const { name } of [...old.attributes]) {
    if (!fresh.hasAttribute(name) && !(name === "open" && old.nodeName === "DETAILS")) old.removeAttribute(name);
  }
  for (const { name, value, namespaceURI } of fresh.attributes) {
    if (name === "open" && old.nodeName === "DETAILS") continue;
    if (old.getAttribute(name) !== value) old.setAttributeNS(namespaceURI, name, value);
  }
}

function bring(old, fresh) {
  if (old.isEqualNode(fresh)) return;
  if (old.nodeType !== Node.ELEMENT_NODE) old.nodeValue = fresh.nodeValue;
  else {
    dress(old, fresh);
    bringChildren(old, fresh);
  }
}

// Children keep their nodes where they are known again, in their order; what is new between them comes, the rest goes.
function bringChildren(old, fresh) {
  const was = [...old.childNodes];
  const now = [...fresh.childNodes];
  let head = 0;
  while (head < was.length && head < now.length && was[head].isEqualNode(now[head])) head += 1;
  let tail = 0;
  const both = Math.min(was.length, now.length) - head;
  while (tail < both && was[was.length - 1 - tail].isEqualNode(now[now.length - 1 - tail])) tail += 1;
  const rest = was.slice(head, was.length - tail);
  const wanted = now.slice(head, now.length - tail);
  const end = was[was.length - tail] ?? null;
  const [names, wantedNames] = [rest.map(known), wanted.map(known)];
  let at = 0;
  wanted.forEach((node, n) => {
    let found = names.indexOf(wantedNames[n], at);
    const free = at < rest.length && rest[at].nodeName === node.nodeName && !wantedNames.includes(names[at], n + 1);
    if (found < 0 && free) found = at;
    if (found < 0) old.insertBefore(node, rest[at] ?? end);
    else {
      for (const gone of rest.slice(at, found)) gone.remove();
      bring(rest[found], node);
      at = found + 1;
    }
  });
  for (const gone of rest.slice(at)) gone.remove();
}

/**
 * Makes the box hold that HTML. Where the part that had the focus is gone, the box has it.
 * @param {HTMLElement} box @param {string} html
 */
export function redrawn(box, html) {
  const fresh = document.createElement("template");
  fresh.innerHTML = html;
  const focused = box.contains(document.activeElement) && document.activeElement !== box;
  bringChildren(box, fresh.content);
  if (focused && !box.contains(document.activeElement)) box.focus({ preventScroll: true });
}
