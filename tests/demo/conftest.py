"""The demo home's builder lies beside these tests; it is read from there."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
