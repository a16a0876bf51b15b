"""How a home is changed lies beside the tests of the model; it is read from there."""

import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[1] / "model")]
