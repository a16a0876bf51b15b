"""What runs inside the server: which notebooks are the workbook's own, who may do what, what a page may load."""

from typing import Any


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    """The server's own question: what of this package it shall load."""
    return [{"module": "alarmlib.lab.served"}]


def _load_jupyter_server_extension(app: Any) -> None:
    """Add the pages' own requests and the policy of what a page may load."""
    from alarmlib.lab.served import page_back, page_left
    from alarmlib.lab.served.policy import policy

    page_back.add(app.web_app)
    page_left.add(app.web_app)
    headers = app.web_app.settings.setdefault("headers", {})
    headers["Content-Security-Policy"] = policy()
    headers["Referrer-Policy"] = "same-origin"
