"""Lets the tests of this folder import `parsed`, the modules of the library."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
