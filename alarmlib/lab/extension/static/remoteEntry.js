// @ts-check
/* Draws a workbook page when it is opened, and shuts its kernel when the page is turned.
 *
 * Acts only in a notebook whose metadata says {"alarmlib": {"run_on_open": true}} and whose every code cell is trusted: a page
 * that somebody else put into the folder, or changed, stays still until its reader trusts it.
 * Written by hand as a module-federation container, so that no JavaScript build is needed.
 */
(() => {
  const NAME = 'alarmlib-run-on-open';
  const PATIENCE_MS = 10000; // a kernel that is busy longer is left running: it may still be saving
  const STYLE = `
    .alarmlib-page .jp-Placeholder, .alarmlib-page .jp-cell-toolbar, .alarmlib-page .jp-Collapser,
    .alarmlib-page .jp-InputPrompt, .alarmlib-page .jp-OutputPrompt,
    .alarmlib-page .jp-Notebook-footer { display: none !important; }
    .alarmlib-page .jp-RenderedText pre { word-break: normal; overflow-wrap: break-word; }`;

  const asked = panel => Boolean(panel?.content?.model?.getMetadata?.('alarmlib')?.run_on_open);

  const trusted = panel => {
    const code = Array.from(panel.content.model.cells).filter(cell => cell.type === 'code');
    return code.length > 0 && code.every(cell => cell.trusted);
  };

  const isPage = panel => asked(panel) && trusted(panel);

  const connected = session => new Promise(resolve => {
    const ready = () => session.session?.kernel?.connectionStatus === 'connected';
    const look = () => {
      if (!ready()) return;
      session.connectionStatusChanged.disconnect(look);
      resolve();
    };
    session.connectionStatusChanged.connect(look);
    look();
  });

  const within = (promise, ms) => Promise.race([
    promise.then(() => true),
    new Promise(resolve => setTimeout(() => resolve(false), ms)),
  ]);

  const drawn = new WeakSet();

  async function draw(app, panel) {
    if (!panel?.context || drawn.has(panel)) return;
    drawn.add(panel);
    await panel.context.ready;
    if (!isPage(panel)) {
      drawn.delete(panel);
      return;
    }
    panel.addClass('alarmlib-page');
    await panel.revealed;
    await panel.sessionContext.ready;
    await connected(panel.sessionContext);
    if (app.shell.currentWidget !== panel) {
      drawn.delete(panel);
      return;
    }
    const run = app.commands.execute('notebook:run-all-cells');
    await atTheTop(panel.content);
    await run;
  }

  /* Running all cells makes the last one the chosen one and goes there; a reader begins at the top. */
  async function atTheTop(notebook) {
    notebook.activeCellIndex = 0;
    await notebook.scrollToItem(0, 'start');
  }

  /* The path of the page that a click leads to, or null.
   * JupyterLab gives a relative link the address of the file's download; one that a form draws keeps the page's own. */
  function turnedTo(app, event) {
    const link = event.target.closest?.('a[href]');
    const address = link && new URL(link.href);
    for (const prefix of ['files/', 'doc/tree/']) {
      const base = new URL(prefix, app.serviceManager.serverSettings.baseUrl);
      if (address?.origin !== base.origin || !address.pathname.startsWith(base.pathname)) continue;
      const path = decodeURIComponent(address.pathname.slice(base.pathname.length));
      if (path.endsWith('.ipynb')) return path;
    }
    return null;
  }

  /* What was typed last is sent by the form when it loses the focus; the kernel answers messages in order, so its answer to
   * ours means that all edits before it are saved. */
  async function settled(panel) {
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    const kernel = panel.sessionContext.session?.kernel;
    return !kernel || within(kernel.requestKernelInfo(), PATIENCE_MS);
  }

  async function turn(app, panel, path) {
    const quiet = await settled(panel);
    await app.commands.execute('docmanager:open', { path });
    if (!quiet || panel.context.path === path) return;
    await panel.sessionContext.shutdown();
    panel.dispose();
  }

  function activate(app) {
    const style = document.createElement('style');
    style.textContent = STYLE;
    document.head.append(style);
    const look = () => draw(app, app.shell.currentWidget).catch(error => console.error(NAME, error));
    app.shell.currentChanged?.connect(look);
    app.restored.then(look);
    // As everywhere on the web, a click with Ctrl or Cmd opens a second tab and leaves this page as it is.
    document.addEventListener('click', event => {
      const panel = app.shell.currentWidget;
      const path = isPage(panel) && panel.node.contains(event.target) ? turnedTo(app, event) : null;
      if (!path) return;
      event.preventDefault();
      event.stopPropagation();
      if (event.ctrlKey || event.metaKey) {
        window.open(new URL(`doc/tree/${path}`, app.serviceManager.serverSettings.baseUrl), '_blank');
      } else {
        turn(app, panel, path).catch(error => console.error(NAME, error));
      }
    }, true);
  }

  const plugin = { id: `${NAME}:plugin`, autoStart: true, activate };
  const page = /** @type {{ _JUPYTERLAB?: Record<string, object> }} */ (/** @type {unknown} */ (window));
  page._JUPYTERLAB = page._JUPYTERLAB || {};
  page._JUPYTERLAB[NAME] = { init: () => {}, get: async () => () => ({ __esModule: true, default: plugin }) };
})();
