"""The nbconvert exporter `alarm_record`: own template, allow-list, content policy; no script, no address.

nbconvert is heavy: this module is imported only by what writes the record (and by nbconvert itself).
"""

import re
from pathlib import Path
from typing import Any

from nbconvert.exporters.templateexporter import TemplateExporter
from traitlets import default
from traitlets.config import Config

_GLOBAL = ["class", "id", "dir", "lang", "role", "aria-label", "aria-labelledby"]
_PAINT = ["fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linejoin", "stroke-linecap"]
_PLACED = {
    "svg": ["viewBox", "width", "font-family", "font-size", "fill"],
    "pattern": ["width", "height", "patternUnits"],
    "path": ["d", *_PAINT],
    "line": ["x1", "y1", "x2", "y2", *_PAINT],
    "g": ["text-anchor", "font-weight", *_PAINT],
    "polygon": ["points", *_PAINT],
    "rect": ["x", "y", "width", "height", *_PAINT],
    "circle": ["cx", "cy", "r", *_PAINT],
    "text": ["x", "y", "font-size", "font-weight", "text-anchor", *_PAINT],
}
ALLOWED_ATTRIBUTES: dict[str, Any] = {
    "*": _GLOBAL,
    "a": lambda _tag, name, value: name == "href" and value.startswith("#"),
    "div": ["tabindex"],
    "th": ["scope"],
    **_PLACED,
}
ALLOWED_TAGS = sorted(
    {"h2", "h3", "p", "ul", "ol", "li", "dl", "dt", "dd", "div", "span", "bdi", "strong", "br", "wbr", "a"}
    | {"table", "caption", "thead", "tbody", "tr", "th", "td", "figure", "figcaption", "details", "summary"}
    | {"title", "desc", "defs", *_PLACED}
)


class RecordExporter(TemplateExporter):
    """Writes a record's notebook as one HTML file that opens anywhere, offline, and prints."""

    export_from_notebook = "Home alarm record"
    output_mimetype = "text/html"

    @default("file_extension")
    def _html(self) -> str:
        return ".html"

    @default("template_name")
    def _name(self) -> str:
        return "template"

    @default("extra_template_basedirs")
    def _beside_this_module(self) -> list[str]:
        return [str(Path(__file__).parent)]

    @default("preprocessors")
    def _sanitizer(self) -> list[str]:
        return ["nbconvert.preprocessors.sanitize.SanitizeHTML"]

    @property
    def default_config(self) -> Config:
        """The allow-list; `preprocessors` makes it run."""
        sanitizer = {
            "tags": ALLOWED_TAGS,
            "attributes": ALLOWED_ATTRIBUTES,
            "strip": False,
            "safe_output_keys": {"metadata", "text/plain"},
            "sanitized_output_types": {"text/html"},
        }
        return Config({"SanitizeHTML": sanitizer})

    def from_notebook_node(self, nb: Any, resources: Any = None, **kw: Any) -> Any:
        """The file and its resources; ends of table parts and list items, which HTML lets one leave out, are left out.

        An empty shape of a picture is closed within its own tag. A typed text cannot hold any of these: its angle
        brackets are written as entities.
        """
        html, resources = super().from_notebook_node(nb, resources, **kw)
        html = re.sub(r"></(?:circle|line|path|polygon|rect)>", "/>", html)
        return re.sub("</(?:t[drh]|thead|tbody|li)>", "", html), resources

    def default_filters(self) -> Any:
        """The stock filters, and one that makes a text harmless inside a CSS string."""
        yield from super().default_filters()  # type: ignore[no-untyped-call]
        yield "css_text", css_text


def css_text(text: str) -> str:
    """Letters, digits, spaces and plain marks only, at most 80 characters: safe between CSS quotes."""
    return re.sub(r"[^\w .,:()-]", "", text)[:80]
