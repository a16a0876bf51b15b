"""Notebooks as the server hands them out: only the workbook's own are signed without being asked."""

import json
from pathlib import Path
from typing import Any

from jupyter_server.services.contents.largefilemanager import AsyncLargeFileManager
from traitlets import Unicode

from alarmlib.lab.workbook import own_text_of


class PageContents(AsyncLargeFileManager):
    """The folder's files. Of a notebook that is not the workbook's own, no save makes a trusted one.

    Jupyter signs each notebook that it saves without foreign outputs: whoever opens it again finds it trusted.
    What widgets once were is never handed out: their scripts would run at opening, trusted or not.
    """

    own_pages = Unicode(help="the list of the workbook's own pages, by the hash of their cells").tag(config=True)

    def mark_trusted_cells(self, nb: Any, path: str = "") -> None:
        """Trust what was signed, and a page of the workbook that nobody ran yet."""
        nb.metadata.pop("widgets", None)
        if self._is_own(nb) and not any(cell.get("outputs") for cell in nb.cells):
            self.notary.mark_cells(nb, True)
        else:
            super().mark_trusted_cells(nb, path)  # type: ignore[no-untyped-call]

    def check_and_sign(self, nb: Any, path: str = "", **rest: Any) -> None:
        """Sign a page of the workbook that is saved; any other only when its reader asks for it."""
        nb.metadata.pop("widgets", None)
        if self._is_own(nb):
            super().check_and_sign(nb, path, **rest)  # type: ignore[no-untyped-call]
        else:
            self.notary.check_cells(nb)

    def _is_own(self, nb: Any) -> bool:
        try:
            listed = json.loads(Path(self.own_pages).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return False
        return own_text_of(nb) in listed.values()
