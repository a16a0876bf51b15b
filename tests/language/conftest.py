"""Lets the tests of this folder import `labels`, the list of all texts."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
