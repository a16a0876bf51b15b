// @ts-check
/* Draws a workbook page when it is opened, and shuts its kernel when the page is turned.
 *
 * Acts only in a notebook whose metadata says {"alarmlib": {"run_on_open": true}} and whose cells, each letter of them, are
 * those of a page in the library's own list (pages.json beside this file, never in the home's folder). Any other that asks
 * stays still and says so; a page that was changed has a button that puts the workbook's own back.
 * Written by hand as a module-federation container, so that no JavaScript build is needed.
 */
(() => {
  const NAME = 'alarmlib-run-on-open';
  const SCRIPT_MS = 120000;
  const PATIENCE_MS = 10000; // a kernel that is busy longer is left running: it may still be saving
  const STYLE = `
    .alarmlib-page .jp-Placeholder, .alarmlib-page .jp-cell-toolbar, .alarmlib-page .jp-Collapser,
    .alarmlib-page .jp-InputPrompt, .alarmlib-page .jp-OutputPrompt,
    .alarmlib-page .jp-Notebook-footer { display: none !important; }
    .alarmlib-page .jp-RenderedText pre { word-break: normal; overflow-wrap: break-word; }
    .alarmlib-still { padding: 12px 24px; font-size: 16px; line-height: 1.4; color: var(--jp-ui-font-color1);
      border-bottom: 2px solid var(--jp-warn-color1); }
    .alarmlib-still p { max-width: 60em; margin: 0 0 8px; }
    .alarmlib-still button { min-height: 32px; padding: 4px 12px; font: inherit; }`;

  let shared = {}; // the modules that JupyterLab lends to its extensions
  const widgetClass = async () => (await Object.values(shared['@lumino/widgets'])[0].get())().Widget;

  const asked = panel => Boolean(panel?.content?.model?.getMetadata?.('alarmlib')?.run_on_open);

  const OTHER = 'This notebook is not one of the workbook’s pages, so nothing on it runs by itself.';
  const CHANGED = 'This page is not as the workbook ships it, so nothing on it runs by itself. The button puts the '
    + 'workbook’s own page in its place and keeps this one beside it, under another name.';
  const BACK = 'Put the workbook’s page back';
  const FAILED = 'The page was not put back. Close the workbook and open it again: that puts it back too.';

  /* The library's own pages by name, each with the hash of its cells; asked anew each time, it is short. */
  async function list(app) {
    const { baseUrl } = app.serviceManager.serverSettings;
    const answer = await fetch(`${baseUrl}lab/extensions/${NAME}/static/pages.json`, { cache: 'no-store' });
    if (!answer.ok) throw new Error(`no list of pages: ${answer.status}`);
    return answer.json();
  }

  /* As Python's json.dumps writes a text: what is beyond plain letters by its number. */
  const written = text => JSON.stringify(text).replace(
    /[\u007f-\uffff]/g, letter => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`);

  /* The hash of a notebook's cells, as `own_text_of` of alarmlib/lab/workbook.py reckons it. */
  async function hash(model) {
    const cells = Array.from(model.cells).map(
      cell => `[${written(cell.type)}, ${written(cell.sharedModel.getSource())}]`);
    const bytes = new TextEncoder().encode(`[${cells.join(', ')}]`);
    const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
    return Array.from(digest, byte => byte.toString(16).padStart(2, '0')).join('');
  }

  const isOwn = async (app, panel) => Object.values(await list(app)).includes(await hash(panel.content.model));

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
    if (!asked(panel)) {
      drawn.delete(panel);
      return;
    }
    if (!await isOwn(app, panel)) {
      await keepStill(app, panel);
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
    if (!await isOwn(app, panel)) return; // it may have been changed while its kernel started
    const run = app.commands.execute('notebook:run-all-cells');
    await atTheTop(panel.content);
    await run;
  }

  /* Says above a page why it stays still. The page's header is JupyterLab's own place for it. */
  async function keepStill(app, panel) {
    const name = panel.context.path.split('/').pop();
    const back = Object.keys(await list(app)).includes(name);
    const node = document.createElement('section');
    node.className = 'alarmlib-still';
    node.setAttribute('role', 'status');
    const sentence = document.createElement('p');
    sentence.textContent = back ? CHANGED : OTHER;
    node.append(sentence);
    const notice = new (await widgetClass())({ node });
    panel.contentHeader.addWidget(notice);
    if (back) node.append(backButton(app, panel, notice, sentence));
    node.style.minHeight = `${node.scrollHeight}px`; // JupyterLab gives a part of a page the least height that it asks for
    panel.contentHeader.fit();
  }

  function backButton(app, panel, notice, sentence) {
    const button = document.createElement('button');
    button.textContent = BACK;
    button.addEventListener('click', () => putBack(app, panel, notice).catch(error => {
      console.error(NAME, error);
      sentence.textContent = FAILED;
    }));
    return button;
  }

  async function putBack(app, panel, notice) {
    if (panel.context.model.dirty) await panel.context.save();
    const { baseUrl } = app.serviceManager.serverSettings;
    const cookie = document.cookie.match(/\b_xsrf=([^;]*)/);
    const answer = await fetch(`${baseUrl}alarmlib/put-back`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', 'X-XSRFToken': cookie ? cookie[1] : '' },
      body: JSON.stringify({ path: panel.context.path }),
    });
    if (!answer.ok) throw new Error(`not put back: ${answer.status}`);
    await panel.context.revert();
    notice.dispose();
    drawn.delete(panel);
    await draw(app, panel);
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

  /* A widget's library gives up for good on a script that is not there after two seconds: on a busy computer the form
   * would show what it was first told, and hear nothing any more. No limit of that kind is shorter than this one. */
  function givePatience() {
    const limit = AbortSignal.timeout.bind(AbortSignal);
    AbortSignal.timeout = ms => limit(Math.max(ms, SCRIPT_MS));
  }

  function activate(app) {
    givePatience();
    const style = document.createElement('style');
    style.textContent = STYLE;
    document.head.append(style);
    const look = () => draw(app, app.shell.currentWidget).catch(error => console.error(NAME, error));
    app.shell.currentChanged?.connect(look);
    app.restored.then(look);
    // As everywhere on the web, a click with Ctrl or Cmd opens a second tab and leaves this page as it is.
    document.addEventListener('click', event => {
      const panel = app.shell.currentWidget;
      const page = panel?.hasClass?.('alarmlib-page') && panel.node.contains(event.target);
      const path = page ? turnedTo(app, event) : null;
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
  page._JUPYTERLAB[NAME] = { init: lent => { shared = lent; }, get: async () => () => ({ __esModule: true, default: plugin }) };
})();
