"""The homes that these tests walk in lie beside them; they are read from there."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
