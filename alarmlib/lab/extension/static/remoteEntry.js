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
  const here = /** @type {HTMLScriptElement} */ (document.currentScript).src;

  /* Each page is one step in the browser's history: JupyterLab notes the same address again and again, at its start too. */
  const note = window.history.pushState.bind(window.history);
  window.history.pushState = (state, unused, url) => {
    const same = url && new URL(url, window.location.href).pathname === window.location.pathname;
    if (same) window.history.replaceState(state, unused, url);
    else note(state, unused, url);
  };

  let shared = {}; // the modules that JupyterLab lends to its extensions
  const widgetClass = async () => (await Object.values(shared['@lumino/widgets'])[0].get())().Widget;

  /* The bar and all else that is around the pages, once for the window. */
  let around = null;
  const aroundPages = app => {
    around ??= (async () => {
      const [{ Workbook }, Widget] = await Promise.all([import(new URL('workbook.js', here).href), widgetClass()]);
      const begin = await fetch(new URL('begin.json', here).href, { cache: 'no-store' });
      return new Workbook(app, Widget, begin.ok && (await begin.json()).tools);
    })();
    return around;
  };

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

  const drawn = new WeakSet();

  async function draw(app, panel) {
    const workbook = await aroundPages(app);
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
    if (!panel.hasClass('alarmlib-page')) {
      panel.addClass('alarmlib-page');
      keepClean(panel, await hash(panel.content.model));
      await workbook.take(panel, Object.keys(await list(app)));
    }
    await panel.revealed;
    await panel.sessionContext.ready;
    await connected(panel.sessionContext);
    if (app.shell.currentWidget !== panel) {
      drawn.delete(panel);
      return;
    }
    if (!await isOwn(app, panel)) return; // it may have been changed while its kernel started
    const run = app.commands.execute('notebook:run-all-cells');
    workbook.begin(panel, run);
    await run;
  }

  /* What forms enter is in the home file. A page whose cells are as they were has nothing of its own to save, and nobody
   * is asked whether to leave it. */
  function keepClean(panel, own) {
    const { model } = panel.context;
    const clean = async () => {
      if (model.dirty && await hash(model) === own) model.dirty = false;
    };
    model.stateChanged.connect((_, change) => {
      if (change.name === 'dirty' && change.newValue) clean();
    });
    clean();
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
    const answer = await (await aroundPages(app)).tell('put-back', panel.context.path);
    if (!answer.ok) throw new Error(`not put back: ${answer.status}`);
    await panel.context.revert();
    notice.dispose();
    drawn.delete(panel);
    await draw(app, panel);
  }

  /* A widget's library gives up for good on a script that is not there after two seconds: on a busy computer the form
   * would show what it was first told, and hear nothing any more. No limit of that kind is shorter than this one. */
  function givePatience() {
    const limit = AbortSignal.timeout.bind(AbortSignal);
    AbortSignal.timeout = ms => limit(Math.max(ms, SCRIPT_MS));
  }

  function activate(app) {
    givePatience();
    for (const name of ['look.css', 'bar.css']) {
      const sheet = document.createElement('link');
      sheet.rel = 'stylesheet';
      sheet.href = new URL(name, here).href;
      document.head.append(sheet);
    }
    const look = () => draw(app, app.shell.currentWidget).catch(error => console.error(NAME, error));
    app.shell.currentChanged?.connect(look);
    app.restored.then(look);
  }

  const plugin = { id: `${NAME}:plugin`, autoStart: true, activate };
  const page = /** @type {{ _JUPYTERLAB?: Record<string, object> }} */ (/** @type {unknown} */ (window));
  page._JUPYTERLAB = page._JUPYTERLAB || {};
  page._JUPYTERLAB[NAME] = { init: lent => { shared = lent; }, get: async () => () => ({ __esModule: true, default: plugin }) };
})();
