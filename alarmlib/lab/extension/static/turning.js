// @ts-check
// Turning to another page in the same window: what was typed is saved first, and the left page's kernel is ended.

const PATIENCE_MS = 10000; // a kernel that is busy longer is left running: it may still be saving
const UNSAVED = ".alarm-form[data-unsaved]";
const OPENED = /\/doc(?:\/workspaces\/[^/]+)?\/tree\/(.+\.ipynb)$/;

/** The path of the page that an address of the workbook shows, or null. @param {string} pathname */
export function pageAt(pathname) {
  const found = OPENED.exec(pathname);
  return found ? decodeURIComponent(found[1]) : null;
}

/**
 * The path of the page that a link leads to, or null. JupyterLab gives a relative link the address of the file's
 * download; one that a form draws keeps the page's own.
 * @param {string} href @param {string} base the server's address
 */
export function pageOf(href, base) {
  const address = new URL(href);
  for (const prefix of ["files/", "doc/tree/"]) {
    const above = new URL(prefix, base);
    if (address.origin !== above.origin || !address.pathname.startsWith(above.pathname)) continue;
    const path = decodeURIComponent(address.pathname.slice(above.pathname.length));
    if (path.endsWith(".ipynb")) return path;
  }
  return null;
}

const within = (promise, ms) => Promise.race([
  promise.then(() => true),
  new Promise((resolve) => setTimeout(() => resolve(false), ms)),
]);

export class Turning {
  /**
   * @param {any} app @param {(panel: any) => boolean} isPage whether a panel is one of the workbook's pages
   * @param {(panel: any) => boolean} isDrawing whether such a page is still being drawn
   */
  constructor(app, isPage, isDrawing) {
    this.app = app;
    this.isDrawing = isDrawing;
    this.wanted = "";
    this.busy = false;
    this.base = app.serviceManager.serverSettings.baseUrl;
    this.isPage = isPage;
    window.addEventListener("popstate", (event) => this.goBack(event), true);
    document.addEventListener("click", (event) => this.click(event), true);
  }

  /** The browser's own Back and Forward. @param {Event} event */
  goBack(event) {
    const panel = this.app.shell.currentWidget;
    const path = pageAt(location.pathname);
    if (!path || !this.isPage(panel)) return;
    event.stopImmediatePropagation();
    this.go(panel, path);
  }

  // As everywhere on the web, a click with Ctrl or Cmd opens a second tab and leaves this page as it is.
  click(event) {
    const panel = this.app.shell.currentWidget;
    const link = this.isPage(panel) && panel.node.contains(event.target) && event.target.closest?.("a[href]");
    const path = link ? pageOf(link.href, this.base) : null;
    if (!path) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.ctrlKey || event.metaKey) window.open(new URL(`doc/tree/${path}`, this.base), "_blank");
    else this.go(panel, path);
  }

  /** Turns to a page; asked again meanwhile, to the last that was asked for. @param {any} panel @param {string} path */
  async go(panel, path) {
    this.wanted = path;
    if (this.busy) return;
    this.busy = true;
    try {
      for (let from = panel; this.isPage(from) && from.context.path !== this.wanted;) {
        await this.turn(from, this.wanted);
        from = this.app.shell.currentWidget;
      }
    } catch (error) {
      console.error("The page was not turned.", error);
    } finally {
      this.busy = false;
    }
  }

  async turn(panel, path) {
    const quiet = await this.settled(panel);
    await this.app.commands.execute("docmanager:open", { path });
    if (!quiet || panel.isDisposed) return;
    if (panel.context.model.dirty) await panel.context.save();
    await panel.sessionContext.shutdown();
    panel.dispose();
  }

  /**
   * Sends what was typed last, which a form does when it loses the focus. The kernel answers messages in order, so its
   * answer to ours means that all edits before it are saved. A page that is still being drawn and in which nothing is
   * unsaved is not waited for.
   */
  async settled(panel) {
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    if (this.isDrawing(panel) && !panel.node.querySelector(UNSAVED)) return true;
    const kernel = panel.sessionContext.session?.kernel;
    return !kernel || within(kernel.requestKernelInfo(), PATIENCE_MS);
  }
}
