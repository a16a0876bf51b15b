"""A name for the code that a proof rests on: the modules of the floors below as shipped, and who does the numbers."""

from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from importlib import metadata
from importlib.resources import files
from importlib.resources.abc import Traversable

RESTS_ON = ("errors.py", "units", "model", "rules", "calc", "facts", "control", "proof")
"""The files and folders of the library whose code decides what a proof says."""
NUMBERS = ("networkx", "numpy", "scipy", "shapely", "pydantic")
"""The libraries that calculate for it, and the one that reads what was entered."""


@cache
def code_digest() -> str:
    """The name of the code: changed as soon as a line below, or the version of a library that calculates, has changed.

    Line ends do not count. Read once a process.
    Reference: FIPS 180-4, SHA-256.
    """
    found = sha256()
    for name, content in modules():
        found.update(f"{name}\n{len(content)}\n".encode() + content)
    for name in NUMBERS:
        found.update(f"{name} {metadata.version(name)}\n".encode())
    return found.hexdigest()


def modules() -> Iterator[tuple[str, bytes]]:
    """Each of these modules with its text, in the order of their names."""
    root = files("alarmlib")
    for name in sorted(RESTS_ON):
        yield from _below(root.joinpath(name), name)


def _below(place: Traversable, name: str) -> Iterator[tuple[str, bytes]]:
    if place.is_file():
        if name.endswith(".py"):
            yield name, place.read_bytes().replace(b"\r\n", b"\n")
    elif not name.endswith("__pycache__"):
        for inner in sorted(place.iterdir(), key=lambda each: each.name):
            yield from _below(inner, f"{name}/{inner.name}")
