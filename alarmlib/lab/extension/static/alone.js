// @ts-check
// The workbook alone: Jupyter's own bars and the marks of cells are out of sight and out of the tab order, and no key, menu
// or double click of Jupyter's changes a cell, until somebody asks for the notebook's tools.

const BARS = ".jp-skiplink-wrapper, #jp-top-panel, #jp-menu-panel, #jp-bottom-panel, .jp-SideBar";
const KEY = "alarmlib:notebook-tools";
const ALONE = "alarmlib-alone";

/** Everything that Jupyter's shell is made of, but not what is in its pages. @returns {Iterable<any>} */
function* partsOf(widget) {
  yield widget;
  if (widget.id === "jp-main-dock-panel") return;
  for (const child of widget.layout ?? []) yield* partsOf(child);
}

export class Alone {
  /** @param {any} app @param {boolean} asked whether the workbook was opened with the tools in sight */
  constructor(app, asked) {
    this.app = app;
    this.asked = asked;
    /** @type {Set<any>} */
    this.hidden = new Set();
    document.body.addEventListener("keydown", (event) => this.keepKeys(event));
    document.addEventListener("contextmenu", (event) => this.on && event.stopPropagation(), true);
  }

  get on() {
    return document.body.classList.contains(ALONE);
  }

  get tools() {
    const chosen = sessionStorage.getItem(KEY);
    return (chosen ?? (this.asked ? "shown" : localStorage.getItem(KEY))) === "shown";
  }

  set tools(shown) {
    for (const place of [sessionStorage, localStorage]) place.setItem(KEY, shown ? "shown" : "hidden");
  }

  /** Hides or shows what suits the page in view; null where that is none of the workbook's. */
  suit(panel) {
    const on = Boolean(panel) && !this.tools;
    document.body.classList.toggle(ALONE, on);
    if (!on) {
      for (const part of this.hidden) if (!part.isDisposed) part.show();
      this.hidden.clear();
      return;
    }
    for (const part of [...partsOf(this.app.shell)].filter((each) => each.node.matches(BARS))) this.hide(part);
    this.hide(panel.toolbar);
    this.outOfTabOrder(panel.content.node);
  }

  hide(part) {
    if (part.isHidden) return;
    part.hide();
    this.hidden.add(part);
  }

  /** A cell's frame is no place to stop at: what is in it is. Jupyter gives it back to each cell that it makes active. */
  outOfTabOrder(node) {
    const stops = () => {
      if (this.on) for (const cell of node.querySelectorAll('.jp-Cell[tabindex="0"]')) cell.tabIndex = -1;
    };
    stops();
    if (node.dataset.alarmlibStops) return;
    node.dataset.alarmlibStops = "none";
    new MutationObserver(stops).observe(node, { subtree: true, attributes: true, attributeFilter: ["tabindex"] });
  }

  // Jupyter listens at the document, one step further up. Everything is saved, so Ctrl and S has nothing to do.
  keepKeys(event) {
    if (!this.on) return;
    event.stopPropagation();
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") event.preventDefault();
  }
}
