"""The home file and all that is done with it: edits, saves, copies to share, tables in and out."""

from alarmlib.store.document import text_of
from alarmlib.store.edits import Edit, FieldClash
from alarmlib.store.home_file import load
from alarmlib.store.kept_saves import Save
from alarmlib.store.secrets import looks_secret
from alarmlib.store.session import Session, bring_back, last_good, session_for
from alarmlib.store.sharing import copy_for

__all__ = [
    "Edit",
    "FieldClash",
    "Save",
    "Session",
    "bring_back",
    "copy_for",
    "last_good",
    "load",
    "looks_secret",
    "session_for",
    "text_of",
]
