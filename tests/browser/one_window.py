"""The window that one test after the other turns its page in, so that JupyterLab starts in it once.

A page in a window of its own takes 8.7 s of processor time, 6 s of it for the start of JupyterLab. How one opens in a
fresh window is what `test_pages_open` and `test_pages` try; every test may ask for one.
"""

from dataclasses import dataclass, field

from playwright.sync_api import Browser, BrowserContext, Page

WIDTH, HEIGHT = 1100, 900
# Nothing is given back: what opens a page answers with the page itself, which cannot be handed over.
TURN = "async (path) => { await window.jupyterapp.commands.execute('docmanager:open', { path }); }"
# A window that was another size a moment ago has to be laid out again.
LAID_OUT = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
# The page away with all that it left; gives whether the window is as a fresh one, save for JupyterLab's own start.
TIDY = """async () => {
  const app = window.jupyterapp;
  for (const panel of [...app.shell.widgets('main')]) panel.dispose();
  document.getElementById('alarm-announcer')?.remove();
  document.documentElement.style.zoom = '';
  sessionStorage.clear();
  localStorage.clear();
  if (document.body.dataset.jpThemeLight === 'false') {
    await app.commands.execute('apputils:change-theme', { theme: 'JupyterLab Light' });
  }
  const dialogs = document.querySelectorAll('.jp-Dialog').length;
  return !dialogs && [...app.shell.widgets('main')].length === 0 && document.body.dataset.jpThemeLight === 'true';
}"""


def local(address: str) -> bool:
    """Whether an address is on this machine."""
    return address.startswith(("http://127.0.0.1:", "ws://127.0.0.1:", "data:", "blob:", "about:"))


@dataclass
class OneWindow:
    """A window of a worker's browser, kept from test to test as long as each leaves it tidy."""

    chromium: Browser
    home: str  # the address of the server, and its token
    token: str
    page: Page | None = None
    taken: bool = False
    elsewhere: list[str] = field(default_factory=list)

    def turn(self, path: str, width: int = WIDTH, height: int = HEIGHT) -> Page:
        """That page of the server, in this window at this size; the window is taken until `tidy`."""
        self.taken = True
        if self.page is not None:
            self.page.set_viewport_size({"width": width, "height": height})
            self.page.evaluate(TURN, path)
            return self.page
        self.page = self._context(width, height).new_page()
        self.page.goto(f"{self.home}/doc/tree/{path}?token={self.token}")
        return self.page

    def tidy(self, failed: bool) -> None:
        """Clear up after a test; a window that is not as it was, or in which a test failed, is not used again."""
        self.taken = False
        if self.page is None:
            return
        context = self.page.context
        for page in context.pages:
            if page is not self.page:
                page.close()
        context.clear_permissions()
        if failed or self.page.is_closed() or not self._cleared(self.page):
            context.close()
            self.page = None
        self.elsewhere.clear()

    @staticmethod
    def _cleared(page: Page) -> bool:
        page.mouse.move(0, 0)
        page.emulate_media(color_scheme="light")
        return bool(page.evaluate(TIDY))

    def _context(self, width: int, height: int) -> BrowserContext:
        context = self.chromium.new_context(viewport={"width": width, "height": height})
        context.set_default_timeout(20_000)
        context.on("request", lambda request: None if local(request.url) else self.elsewhere.append(request.url))
        return context
