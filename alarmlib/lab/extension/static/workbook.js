// @ts-check
// What is around a page of the workbook: the bar, where its reader left off, and Jupyter's own bars out of sight.

import { Alone } from "./alone.js";
import { around, titleOf } from "./around.js";
import { Bar } from "./bar.js";
import { showHelp } from "./help.js";
import { ask } from "./kernel_line.js";
import { goTo, keepPlace, placeIn } from "./left_off.js";
import { showSheet } from "./printing.js";
import { Turning } from "./turning.js";

const GONE = ["dead", "restarting", "autorestarting", "terminating"];
const UNSAVED = ".alarm-form[data-unsaved]";

const isPage = (panel) => Boolean(panel?.hasClass?.("alarmlib-page"));

export class Workbook {
  /** @param {any} app @param {any} Widget Lumino's class @param {boolean} tools whether it was opened with the tools */
  constructor(app, Widget, tools) {
    this.app = app;
    this.Widget = Widget;
    this.alone = new Alone(app, tools);
    /** @type {WeakMap<any, Bar>} */
    this.bars = new WeakMap();
    this.turning = new Turning(app, isPage, (panel) => !this.bars.get(panel)?.drawn);
    app.shell.currentChanged?.connect(() => this.suit());
    new MutationObserver(() => this.name()).observe(document.querySelector("title"), { childList: true });
    window.addEventListener("beforeunload", (event) => {
      if (document.querySelector(UNSAVED)) event.preventDefault();
    });
  }

  get page() {
    const panel = this.app.shell.currentWidget;
    return isPage(panel) ? panel : null;
  }

  suit() {
    this.alone.suit(this.bars.has(this.page) ? this.page : null);
    this.name();
  }

  /** Tells the server something about a page. @param {string} what @param {string} path */
  tell(what, path) {
    const { baseUrl } = this.app.serviceManager.serverSettings;
    const cookie = document.cookie.match(/\b_xsrf=([^;]*)/);
    return fetch(`${baseUrl}alarmlib/${what}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-XSRFToken": cookie ? cookie[1] : "" },
      body: JSON.stringify({ path }),
    });
  }

  /** The window is called by the page's title, not by its file. */
  name() {
    const title = `${this.bars.get(this.page)?.title} · Home alarm workbook`;
    if (this.alone.on && document.title !== title) document.title = title;
  }

  /** Puts the bar over a page. @param {any} panel @param {string[]} listed the library's own pages */
  async take(panel, listed) {
    const { path } = panel.context;
    const folder = path.slice(0, Math.max(0, path.lastIndexOf("/")));
    const found = await this.app.serviceManager.contents.get(folder);
    const texts = [...panel.content.model.cells].filter(({ type }) => type === "markdown");
    const title = titleOf(texts.map((cell) => cell.sharedModel.getSource()), path);
    const names = found.content.map(({ name }) => name);
    const bar = new Bar(title, around(path, listed, names), this.deeds(panel), panel.content.node);
    this.bars.set(panel, bar);
    this.place(panel, bar);
    panel.sessionContext.statusChanged.connect((_, status) => {
      // a kernel that starts under a page that is drawn is another one, which knows nothing of its forms
      if (GONE.includes(status) || (status === "starting" && bar.drawn)) bar.live(false);
    });
    this.suit();
    this.tell("left-off", path);
  }

  /** JupyterLab gives a part of a page the least height that it asks for: the bar asks anew whenever it wraps. */
  place(panel, bar) {
    const node = document.createElement("div");
    node.append(bar.node);
    const widget = new this.Widget({ node });
    panel.contentHeader.addWidget(widget);
    new ResizeObserver(() => {
      node.style.minHeight = `${bar.node.offsetHeight}px`;
      if (!panel.isDisposed) panel.contentHeader.fit();
    }).observe(bar.node);
  }

  deeds(panel) {
    const asked = async (question) => {
      await this.turning.settled(panel);
      return ask(panel.sessionContext.session?.kernel, question);
    };
    return {
      undo: () => asked({ kind: "undo" }),
      print: () => showSheet(panel, this.bars.get(panel).title, asked),
      help: () => this.help(panel),
      turn: (path) => this.turning.go(panel, path),
      again: () => this.runAgain(panel),
    };
  }

  help(panel) {
    const kernel = panel.sessionContext.session?.kernel;
    const place = new Promise((known) => {
      ask(kernel, { kind: "home" }).then(({ say }) => say && known(say));
    });
    showHelp(place, {
      tools: this.alone.tools,
      again: () => this.runAgain(panel),
      showTools: (shown) => {
        this.alone.tools = shown;
        this.suit();
      },
    });
  }

  async runAgain(panel) {
    const { sessionContext } = panel;
    if (!sessionContext.session?.kernel || sessionContext.session.kernel.status === "dead") await sessionContext.restartKernel();
    this.bars.get(panel)?.live(true);
    await this.app.commands.execute("notebook:run-all-cells");
  }

  /** A page that is being drawn: its reader is at the bar, and where they left off once it is there. */
  begin(panel, drawn) {
    const bar = this.bars.get(panel);
    const notebook = panel.content;
    const scroller = notebook.node.querySelector(".jp-WindowedPanel-outer") ?? notebook.node;
    const cells = () => notebook.widgets.map(({ node }) => node);
    const key = `alarmlib:place:${serverRoot()}/${panel.context.path}`;
    const place = placeIn(key);
    notebook.activeCellIndex = 0;
    toTheBar(bar.node);
    const there = place ? goTo(scroller, cells, place, drawn) : notebook.scrollToItem(0, "start");
    Promise.resolve(there).then(() => keepPlace(scroller, cells, key));
    drawn.finally(() => {
      bar.begun();
      toTheBar(bar.node);
    });
  }
}

// JupyterLab puts a reader on the frame of a cell: they begin at the bar instead, unless they are at something already.
function toTheBar(node) {
  const at = document.activeElement;
  if (at === document.body || at.matches(".jp-Cell, .jp-Notebook, .jp-WindowedPanel-outer")) node.focus({ preventScroll: true });
}

function serverRoot() {
  try {
    return JSON.parse(document.getElementById("jupyter-config-data").textContent).serverRoot ?? "";
  } catch {
    return "";
  }
}
