"""What a page may load and run, as the header that browsers keep to: from this server alone, and no script in its text.

`blob:` is how anywidget hands a form's own script to the browser. JupyterLab checks its settings by functions made at
run time: without 'unsafe-eval' version 4.6 shows no page at all. Its parts carry styles in the page.
The header is described in Content Security Policy Level 3 of the W3C.
"""

import base64
import hashlib
import re
from pathlib import Path


def policy() -> str:
    """The header's text for the installed JupyterLab."""
    inline = " ".join(f"'sha256-{each}'" for each in _inline_scripts())
    rules = (
        "default-src 'self'",
        f"script-src 'self' blob: 'unsafe-eval' {inline}".rstrip(),
        "style-src 'self' 'unsafe-inline'",
        "img-src 'self' data: blob:",
        "font-src 'self' data:",
        "connect-src 'self' data: blob:",
        "worker-src 'self' blob:",
        "frame-src 'self' blob:",
        "frame-ancestors 'self'",
        "object-src 'none'",
        "base-uri 'self'",
        "form-action 'self'",
    )
    return "; ".join(rules)


def _inline_scripts() -> list[str]:
    """Hashes of the scripts in the text of JupyterLab's page: one takes the token out of the address."""
    from jupyterlab.commands import get_app_dir

    page = Path(get_app_dir()) / "static" / "index.html"  # type: ignore[no-untyped-call]
    scripts = re.findall(r"<script>(.+?)</script>", page.read_text(encoding="utf-8"), re.DOTALL)
    return [base64.b64encode(hashlib.sha256(each.encode()).digest()).decode() for each in scripts]
