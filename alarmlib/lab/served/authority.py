"""What an open page may ask of the server: notebooks and their kernels; no terminal, no kernel without a page."""

from typing import Any

from jupyter_server.auth.authorizer import Authorizer
from jupyter_server.services.kernels.handlers import MainKernelHandler
from jupyter_server.services.sessions.handlers import SessionHandler, SessionRootHandler


class PagesOnly(Authorizer):
    """Refuses terminals, kernels that belong to no notebook, and sessions of another kind, such as a console's."""

    def is_authorized(self, handler: Any, _user: Any, action: str, resource: str) -> bool:
        """Whether a request with the right token is taken."""
        if resource == "terminals":
            return False
        if action == "write" and isinstance(handler, MainKernelHandler):
            return False
        if action == "write" and isinstance(handler, SessionRootHandler | SessionHandler):
            return _of_a_notebook(handler.get_json_body())
        return True


def _of_a_notebook(asked: Any) -> bool:
    """Whether a session is, or stays, a notebook's: what a request does not name, it leaves as it is."""
    return not isinstance(asked, dict) or asked.get("type") in (None, "notebook")
