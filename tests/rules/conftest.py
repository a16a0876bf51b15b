"""Lets the tests of this folder import `by_country`."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
