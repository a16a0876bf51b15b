// @ts-check
// Where a reader was in a page, kept for this computer's browser, and gone back to when the page is opened again.

const PAUSE_MS = 250;
const PATIENCE_MS = 20000; // forms come in one after the other and push what is below them down
const HANDS = ["wheel", "keydown", "pointerdown", "touchstart"];

/** @typedef {{ cell: number, offset: number }} Place the cell at the top of the view, and how far above it begins */

/** @param {string} key @returns {Place | null} */
export function placeIn(key) {
  try {
    const found = JSON.parse(localStorage.getItem(key) ?? "null");
    return Number.isInteger(found?.cell) && Number.isFinite(found?.offset) ? found : null;
  } catch {
    return null;
  }
}

/** The place of a scrolled view, from where each cell begins and ends, measured from the top of the view. */
export function placeOf(/** @type {{ top: number, bottom: number }[]} */ cells) {
  const cell = cells.findIndex(({ bottom }) => bottom > 1);
  return cell < 0 ? { cell: 0, offset: 0 } : { cell, offset: Math.round(-cells[cell].top) };
}

const boxes = (scroller, cells) => {
  const { top } = scroller.getBoundingClientRect();
  return cells().map((node) => {
    const box = node.getBoundingClientRect();
    return { top: box.top - top, bottom: box.bottom - top };
  });
};

/** Keeps the place from now on. @param {HTMLElement} scroller @param {() => HTMLElement[]} cells @param {string} key */
export function keepPlace(scroller, cells, key) {
  let waiting = false;
  scroller.addEventListener("scroll", () => {
    if (waiting) return;
    waiting = true;
    setTimeout(() => {
      waiting = false;
      if (scroller.isConnected) localStorage.setItem(key, JSON.stringify(placeOf(boxes(scroller, cells))));
    }, PAUSE_MS);
  });
}

/**
 * Holds the view at a place while the page grows, until it stands still or the reader moves it.
 * @param {HTMLElement} scroller @param {() => HTMLElement[]} cells @param {Place} place @param {Promise<unknown>} drawn
 */
export async function goTo(scroller, cells, place, drawn) {
  let over = false;
  const end = () => {
    over = true;
  };
  const inForm = ({ target }) => target.closest(".alarm-form") && end(); // a link that led to a field, or its reader
  for (const kind of HANDS) scroller.addEventListener(kind, end, { once: true, passive: true });
  scroller.addEventListener("focusin", inForm);
  setTimeout(end, PATIENCE_MS);
  drawn.finally(() => setTimeout(end, 3000));
  while (!over && scroller.isConnected) {
    const box = boxes(scroller, cells)[place.cell];
    if (box) scroller.scrollTop += box.top + place.offset;
    await new Promise((done) => setTimeout(done, 100));
  }
  for (const kind of HANDS) scroller.removeEventListener(kind, end);
  scroller.removeEventListener("focusin", inForm);
}
