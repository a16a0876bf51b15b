"""Every source that the library cites has been written down."""

import re
from pathlib import Path

from alarmlib.sources import every_source

LIBRARY = Path(__file__).parents[1] / "alarmlib"
_NUMBERED = re.compile(r'"((?:[a-z]+_?\d{2,}[a-z0-9]*)_[a-z0-9_]+)"')  # "cp01_exit", "en50131_unset", "ts50131_7_..."


def test_every_standard_cited_in_the_code_is_known() -> None:
    """A literal that begins like a standard's key (letters and its number) is a key of the table."""
    known = {source.key for source in every_source()}
    cited = {key for path in LIBRARY.rglob("*.py") for key in _NUMBERED.findall(path.read_text(encoding="utf-8"))}
    assert len(cited) > 30
    assert cited - known == set()


def test_no_source_stands_twice() -> None:
    """One line a key."""
    keys = [source.key for source in every_source()]
    assert len(keys) == len(set(keys))
