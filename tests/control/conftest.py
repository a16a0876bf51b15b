"""The house in which the scenarios of `scenarios/` play, and how a scenario is read and held against a control unit.

A scenario is written by hand: a title, facts that differ (`with`), what happens (`12 Opens front`), and what a person
notices (`at 12: tone entry`, `from 16 to 23: siren burglary io`, `never: message`, `not at 5: siren`). A word list
matches whatever begins with it.
"""

import dataclasses
import inspect
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path
from typing import Any

import pytest

from alarmlib.control import inputs, machine, setup, setup_parts
from alarmlib.model.words import FaultKind, Function

SCENARIOS = Path(__file__).parent / "scenarios"


@dataclass(frozen=True)
class Scenario:
    """One scenario: what differs, what happens by second, what is noticed."""

    title: str
    differs: tuple[tuple[str, str], ...]
    happens: tuple[tuple[int, str], ...]
    noticed: tuple[str, ...]


def read_scenarios() -> list[Scenario]:
    """All scenarios of all files, in order."""
    return [scenario for path in sorted(SCENARIOS.glob("*.txt")) for scenario in _read(path.read_text("utf-8"))]


def _read(text: str) -> Iterator[Scenario]:
    for block in text.split("\n== ")[1:]:
        title, *lines = [line.strip() for line in block.splitlines() if line.strip() and not line.startswith("#")]
        differs, happens, noticed = [], [], []
        for line in lines:
            first = line.split()[0]
            if first == "with":
                name, _, value = line[5:].partition("=")
                differs.append((name.strip(), value.strip()))
            elif first.isdigit():
                happens.append((int(first), line[len(first) :].strip()))
            else:
                noticed.append(line)
        yield Scenario(title.strip("= "), tuple(differs), tuple(happens), tuple(noticed))


def the_house() -> setup.Setup:
    """Two areas, two part sets, a zone of each function, short times."""
    s, p = setup, setup_parts
    passing = lambda name, sleep_s=0: (p.DeviceSetup(name, lasting=False, sleep_s=sleep_s),)  # noqa: E731
    both, house = ("house", "shed"), ("house",)
    zones = (
        p.ZoneSetup("front", Function.ENTRY_EXIT, house, chime=True),
        p.ZoneSetup("side", Function.ENTRY_EXIT, house, entry_s=2, exit_s=3),
        p.ZoneSetup("hall", Function.ENTRY_ROUTE, house, passing("hall")),
        p.ZoneSetup("lounge", Function.AT_ONCE, house, passing("lounge"), inside=True),
        p.ZoneSetup("landing", Function.ENTRY_EXIT, house, passing("landing", 3), inside=True),
        p.ZoneSetup("window", Function.AT_ONCE, house),
        p.ZoneSetup("bay", Function.AT_ONCE, house, (p.DeviceSetup("bay_left"), p.DeviceSetup("bay_right"))),
        p.ZoneSetup("hatch", Function.WARN_UNSET, house),
        p.ZoneSetup("cabinet", Function.ALWAYS_SIREN, house),
        p.ZoneSetup("safe", Function.ALWAYS_MESSAGE, house),
        p.ZoneSetup("button", Function.HOLD_UP, house, passing("button")),
        p.ZoneSetup("box", Function.TAMPER, house),
        p.ZoneSetup("smoke", Function.FIRE, house),
        p.ZoneSetup("gas", Function.CARBON_MONOXIDE, house),
        p.ZoneSetup("leak", Function.WATER, house),
        p.ZoneSetup("frost", Function.LOW_TEMPERATURE, house, restore_hold_s=3),
        p.ZoneSetup("key", Function.KEY_SWITCH, house, passing("key")),
        p.ZoneSetup("porch", Function.ENTRY_EXIT, both),
        p.ZoneSetup("shed_door", Function.ENTRY_EXIT, ("shed",)),
    )
    night = p.PartSetup("night", frozenset({"landing", "lounge", "hall"}), exit_s=0)
    home = p.PartSetup("home", frozenset({"landing", "lounge", "hall"}), frozenset({"side"}), exit_s=3)
    areas = (
        p.AreaSetup("house", exit_s=6, entry_s=4, siren_s=8, abort_s=3, parts=(night, home)),
        p.AreaSetup("shed", exit_s=5, entry_s=3, siren_s=6),
    )
    watches = (
        p.WatchSetup("mains", FaultKind.MAINS, hold_s=3, areas=house),
        p.WatchSetup("line", FaultKind.SIREN_LINE, areas=house),
        p.WatchSetup("path", FaultKind.TRANSMISSION_PATH, areas=house),
        p.WatchSetup("lid", FaultKind.TAMPER, latches=True, areas=house, zones=("window",)),
        p.WatchSetup("cell", FaultKind.LOW_BATTERY, stops_setting=True, areas=("shed",), zones=("shed_door",)),
    )
    return s.Setup(areas, zones, watches, s.Behaviour(recent_closing_s=9, exit_last_s=2, ignore_after_power_s=5))


def with_facts(unit: Any, differs: tuple[tuple[str, str], ...]) -> Any:
    """The setup with facts changed: `behaviour.x=value`, `zone.window.x=value`; likewise device, area, watch, part."""
    for path, value in differs:
        kind, *names, fact = path.split(".")
        if kind == "behaviour":
            unit = replace(unit, behaviour=_changed(unit.behaviour, fact, value))
        elif kind == "part":
            areas = tuple(
                replace(
                    area, parts=tuple(_changed(part, fact, value) if part.id in names else part for part in area.parts)
                )
                for area in unit.areas
            )
            unit = replace(unit, areas=areas)
        elif kind == "device":
            zones = tuple(
                replace(zone, devices=tuple(_changed(device, fact, value) for device in zone.devices))
                if zone.id in names
                else zone
                for zone in unit.zones
            )
            unit = replace(unit, zones=zones)
        else:
            field = {"zone": "zones", "area": "areas", "watch": "watches"}[kind]
            many = tuple(_changed(one, fact, value) if one.id in names else one for one in getattr(unit, field))
            unit = replace(unit, **{field: many})
    return unit


def _changed(part: Any, fact: str, value: str) -> Any:
    old = getattr(part, fact)
    if isinstance(old, Enum):
        return replace(part, **{fact: type(old)(value.strip('"'))})
    new = json.loads(value)
    if isinstance(new, list):
        new = (frozenset if isinstance(old, frozenset) else tuple)(new)
    return replace(part, **{fact: new})


def event_of(line: str) -> Any:
    """`Arm house part=night` as an input."""
    name, *words = line.split()
    kind = getattr(inputs, name)
    fields = {field.name: field.type for field in dataclasses.fields(kind)}
    given = dict(zip(fields, [word for word in words if "=" not in word], strict=False))
    given |= dict(word.split("=") for word in words if "=" in word)
    return kind(**{name: _value(kind, name, text) for name, text in given.items()})


def _value(kind: type, name: str, text: str) -> Any:
    wanted = inspect.signature(kind).parameters[name].annotation
    if wanted in (bool, "bool"):
        return text == "true"
    return inputs.Way(text) if name == "way" else text


def tokens(outputs: Any) -> set[str]:
    """What is noticed in a second, as words."""
    found = {f"siren {x.area} {x.pattern} {'i' * x.inside}{'o' * x.outside}" for x in outputs.sirens}
    found |= {f"tone {x.area} {x.tone}" for x in outputs.tones}
    found |= {" ".join(w for w in ("message", x.area, x.kind, *x.about, *x.marks) if w) for x in outputs.messages}
    found |= {" ".join(w for w in ("shown", x.area, x.notice, *x.about) if w) for x in outputs.shown}
    found |= {" ".join(w for w in ("refused", x.area, x.reason, x.about) if w) for x in outputs.refusals}
    found |= {" ".join(w for w in ("log", x.event, x.about) if w) for x in outputs.log}
    return found


def failures(scenario: Scenario, mutate: Callable[[Any], Any] = lambda unit: unit, control: Any = None) -> list[str]:
    """Which lines of the scenario do not hold; `mutate` changes the setup, `control.machine` another unit."""
    step_by = machine if control is None else control.machine
    unit = mutate(with_facts(the_house(), scenario.differs))
    by_second: dict[int, list[Any]] = {}
    for second, line in scenario.happens:
        by_second.setdefault(second, []).append(event_of(line))
    last = max(
        [second for second, _ in scenario.happens] + [int(word) for line in scenario.noticed for word in _numbers(line)]
    )
    trace = step_by.run(unit, by_second, last + 3)
    heard = [tokens(second.outputs) for second in trace]
    return [line for line in scenario.noticed if not _holds(line, heard)]


def _numbers(line: str) -> list[str]:
    return [word for word in line.split(":", maxsplit=1)[0].split() if word.isdigit()]


def _holds(line: str, heard: list[set[str]]) -> bool:
    when, _, what = line.partition(":")
    words, numbers = when.split(), [int(word) for word in _numbers(line)]
    each = [part.strip() for part in what.split(";")]
    if words[0] == "never":
        return not any(_there(part, second) for part in each for second in heard)
    if words[0] == "once":
        return all(sum(_there(part, second) for second in heard) == 1 for part in each)
    if words[0] == "not":
        return not any(_there(part, heard[numbers[0]]) for part in each)
    if words[0] == "at":
        return all(_there(part, heard[numbers[0]]) for part in each)
    first, last = numbers
    return all(
        _there(part, heard[at]) == (first <= at <= last) for part in each for at in range(max(0, first - 1), last + 2)
    )


def _there(what: str, second: set[str]) -> bool:
    return any(token == what or token.startswith(f"{what} ") for token in second)


@pytest.fixture(scope="session")
def scenarios() -> list[Scenario]:
    """All scenarios."""
    return read_scenarios()


@pytest.fixture(scope="session")
def scenario_failures() -> Callable[..., list[str]]:
    """Which lines of a scenario do not hold."""
    return failures


@pytest.fixture(scope="session")
def scenario_house() -> Any:
    """The house of the scenarios."""
    return the_house()


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """One test a scenario."""
    if "scenario" in metafunc.fixturenames:
        found = read_scenarios()
        metafunc.parametrize("scenario", found, ids=[scenario.title.replace(" ", "_") for scenario in found])
