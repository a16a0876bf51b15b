"""Something computed from the home that is shown again, by itself, a moment after each change."""

import threading
from collections.abc import Callable
from html import escape
from typing import Any

import anywidget
import traitlets

from alarmlib.errors import AlarmProblem
from alarmlib.model import Home
from alarmlib.rules import say_of
from alarmlib.store import Session

PAUSE_S = 0.6  # after the last change, so that nobody waits for it while typing


class Live(anywidget.AnyWidget):
    """Shows `drawn(home)`, HTML already escaped, and draws it again after changes; problems become a sentence."""

    _esm = """
    export default { render({ model, el }) {
      el.classList.add('alarm-page');
      el.setAttribute('role', 'region');
      el.setAttribute('aria-label', model.get('title'));
      const drawing = document.createElement('div');
      const status = document.createElement('p'); // one short line is read out, not the whole drawing
      status.setAttribute('role', 'status');
      el.append(drawing, status);
      for (const kind of ['keydown', 'keyup', 'keypress']) { // keys that open or fold a part are no notebook commands
        el.addEventListener(kind, (event) => event.ctrlKey || event.metaKey || event.stopPropagation());
      }
      const draw = () => { drawing.innerHTML = model.get('html'); };
      model.on('change:html', () => { draw(); status.textContent = `${model.get('title')} was redrawn.`; });
      draw();
    } };
    """
    title = traitlets.Unicode().tag(sync=True)
    html = traitlets.Unicode().tag(sync=True)

    def __init__(self, session: Session, title: str, drawn: Callable[[Home], str]) -> None:
        super().__init__(title=title)
        self.session, self.drawn = session, drawn
        self._waiting: threading.Timer | None = None
        self.redraw()
        self.unsubscribe = session.subscribe(self._told)

    def __repr__(self) -> str:
        return f"Live: {self.title}"

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        bundle = super()._repr_mimebundle_(**kwargs)
        data = bundle[0] if isinstance(bundle, tuple) else bundle
        if data is not None:
            data["text/plain"] = repr(self)
        return bundle

    def _told(self, *_news: Any) -> None:
        if self._waiting is not None:
            self._waiting.cancel()
        self._waiting = threading.Timer(PAUSE_S, self.redraw)
        self._waiting.daemon = True
        self._waiting.start()

    def redraw(self) -> None:
        """Draw it now, whether or not the home has changed."""
        try:
            self.html = self.drawn(self.session.home)
        except AlarmProblem as problem:
            told = say_of(self.session.home)(str(problem))
            self.html = f'<p role="status">{escape(told)}</p>'
