"""The request of a changed page's button: the workbook's own page is put back, and the changed one kept aside."""

import json
from pathlib import Path
from typing import Any

from jupyter_server.auth.decorator import authorized
from jupyter_server.base.handlers import APIHandler
from jupyter_server.utils import url_path_join
from tornado import web

from alarmlib.lab.workbook import page_files, put_back

PATH = "alarmlib/put-back"


class PutPageBack(APIHandler):
    """Takes the path of a page, from the server's folder; answers with the name under which the old one is kept."""

    auth_resource = "contents"

    @web.authenticated
    @authorized
    def post(self) -> None:
        """Put the page back; only a name of one of the workbook's pages is taken."""
        asked = (self.get_json_body() or {}).get("path", "")
        files: Any = self.contents_manager
        there = Path(files._get_os_path(str(asked)))
        page = next((page for page in page_files() if page.name == there.name), None)
        if page is None or not there.is_file():
            raise web.HTTPError(404, "This is not a page of the workbook.")
        self.finish(json.dumps({"aside": put_back(page, there).name}))


def add(server: Any) -> None:
    """Have the server answer the request."""
    server.add_handlers(".*$", [(url_path_join(server.settings["base_url"], PATH), PutPageBack)])
