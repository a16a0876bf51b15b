"""The models and the searches that these tests share lie beside them; walks in metres are with the tests of `calc`."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1] / "calc"))
