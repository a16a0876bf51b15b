"""The request of each page that is opened: its name is kept, so that the workbook opens there the next time."""

from pathlib import Path
from typing import Any

from jupyter_server.auth.decorator import authorized
from jupyter_server.base.handlers import APIHandler
from jupyter_server.utils import url_path_join
from tornado import web

from alarmlib.lab import left_off

PATH = "alarmlib/left-off"


class KeepPage(APIHandler):
    """Takes the path of a page in the server's own folder."""

    auth_resource = "contents"

    @web.authenticated
    @authorized
    def post(self) -> None:
        """Keep the page's name; only one of the workbook's pages is taken."""
        asked = str((self.get_json_body() or {}).get("path", ""))
        if not left_off.keep(Path(self.contents_manager.root_dir), asked):
            raise web.HTTPError(404, "This is not a page of the workbook.")
        self.set_status(204)
        self.finish()


def add(server: Any) -> None:
    """Have the server answer the request."""
    server.add_handlers(".*$", [(url_path_join(server.settings["base_url"], PATH), KeepPage)])
