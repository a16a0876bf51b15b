"""Known holes in pinned versions: found by the real pip-audit, and never taken for looked up when nobody answered."""

import json
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from types import ModuleType
from typing import Any

import pytest

URLLIB3 = ("urllib3", "1.26.4", "1.26.5")  # the hole that everybody knows, as in tests/audit.py


class Answers(BaseHTTPRequestHandler):
    """A server on this computer that answers as the open database of holes does (ossf.github.io/osv-schema)."""

    holes: tuple[tuple[str, str, str], ...] = ()  # name, version, closed in

    def do_POST(self) -> None:
        """One version is asked about; its holes are the answer."""
        asked = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        name, version = asked["package"]["name"], asked["version"]
        told = [_hole(name, closed) for part, wrong, closed in self.holes if (part, wrong) == (name, version)]
        body = json.dumps({"vulns": told} if told else {}).encode()
        self.send_response(200)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """Nothing is printed."""


def _hole(name: str, closed: str) -> dict[str, Any]:
    ranges = [{"type": "ECOSYSTEM", "events": [{"introduced": "0"}, {"fixed": closed}]}]
    return {"id": f"HOLE-{name}", "affected": [{"package": {"name": name, "ecosystem": "PyPI"}, "ranges": ranges}]}


@pytest.fixture
def server() -> Iterator[str]:
    """The address of that server; it knows no holes until a test sets them."""
    with ThreadingHTTPServer(("127.0.0.1", 0), Answers) as made:
        Thread(target=made.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{made.server_port}/v1/query"
        made.shutdown()


@pytest.fixture
def pins(audit: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Three pins: one of them for another computer only, one in two versions."""
    file = tmp_path / "constraints.txt"
    file.write_text("# head\none==1\ntwo==2 ; sys_platform == 'win32'\none==1.5 ; python_version > '3.12'\n")
    monkeypatch.setattr(audit, "PINS", file)


@pytest.mark.parametrize(
    ("holes", "code", "told"),
    [
        ((URLLIB3,), 0, "No known hole in 3 versions"),
        ((URLLIB3, ("two", "2", "2.1")), 1, "two 2: HOLE-two. Closed in: 2.1."),
        ((URLLIB3, ("one", "1.5", "1.6")), 1, "one 1.5: HOLE-one"),
        ((), 3, "Known holes were not looked up"),
    ],
    ids=["clean", "another computer's part", "a second version", "a list that knows nothing"],
)
@pytest.mark.usefixtures("pins")
def test_what_the_tool_says(
    audit: ModuleType,
    server: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    holes: tuple[tuple[str, str, str], ...],
    code: int,
    told: str,
) -> None:
    """The real tool, asking a server on this computer: a hole fails, a list without the known hole is no list."""
    monkeypatch.setattr(Answers, "holes", holes)
    assert audit.main(["--osv-url", server]) == code
    assert told in capsys.readouterr().out


@pytest.mark.usefixtures("pins")
def test_nobody_answers(audit: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a server it says that nothing was looked up, and why."""
    assert audit.main(["--osv-url", "http://127.0.0.1:1/v1/query"]) == 3
    assert "not looked up, because no list could be had. osv: it does not answer." in capsys.readouterr().out


def test_a_part_that_the_list_does_not_know(audit: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list that leaves one part out has not answered: pip-audit itself would end as if nothing were wrong."""
    answers = {audit.KNOWN_HOLE: (["hole"], []), "one==1": ([], []), "two==2": ([], ["two"])}
    monkeypatch.setattr(audit, "answers", lambda pins, _: answers[pins[-1]])
    assert audit.holes_in(["one==1"], ["pypi"]) == []
    with pytest.raises(audit.NotHad, match="does not know two"):
        audit.holes_in(["one==1", "two==2"], ["pypi"])


def test_each_pin_is_asked_about(audit: ModuleType) -> None:
    """Markers are taken off, and two versions of one part go into two questions."""
    found = audit.groups(["a==1", "b==1 ; python_version < '3'", "b==2 ; python_version >= '3'"])
    assert found == [["a==1", "b==1"], ["b==2"]]
