"""How a home is changed and what is worked out from it lie beside these tests; they are read from there."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
