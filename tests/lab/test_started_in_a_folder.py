"""A command that is started inside a folder somebody sent runs nothing of what lies there."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_a_command_imports_nothing_from_the_folder_it_is_started_in(tmp_path: Path) -> None:
    """Modules named as Python's own and as our libraries lie beside the home: none is run by `check`."""
    (tmp_path / "ran").mkdir()
    (tmp_path / "home.json").write_bytes((ROOT / "workbook" / "demo_home.json").read_bytes())
    for name in ("argparse", "json", "scipy", "numpy", "shapely", "pydantic", "sitecustomize"):
        (tmp_path / f"{name}.py").write_text(f"import os; os.mkdir({str(tmp_path / 'ran' / name)!r})\n")
    surround = {**os.environ, "PYTHONPATH": str(ROOT)}
    words = [sys.executable, "-m", "alarmlib", "check", "home.json"]
    done = subprocess.run(words, cwd=tmp_path, env=surround, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    assert "findings must be fixed" in done.stdout
    assert list((tmp_path / "ran").iterdir()) == []
