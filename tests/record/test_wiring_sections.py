"""Sections and lists on loops, power, cable, radio, sound and the day of fitting, on the demo home.

Figures of the demo home are what the library made of it (no outside source), the battery by hand beside it.
"""

import csv
import io
from datetime import date
from itertools import pairwise
from math import hypot

import pytest

from alarmlib.calc.electrical.cable_routes import routes
from alarmlib.calc.electrical.home_loops import loop_of, seen
from alarmlib.calc.electrical.power import load
from alarmlib.checks.assess import assess
from alarmlib.model import Home
from alarmlib.model.wiring import Stop
from alarmlib.model.words import Share, UnitSystem
from alarmlib.record.blocks import Picture, Table
from alarmlib.record.cable_plan import cable_pictures
from alarmlib.record.charts import BandRow, LevelRow, band_chart, course_chart, level_chart
from alarmlib.record.context import Context
from alarmlib.record.picture import Fill, Rect
from alarmlib.record.plain import plain_blocks
from alarmlib.record.section import Section
from alarmlib.record.sections.electrical.fitting import cables, fitting
from alarmlib.record.sections.electrical.loops import loops
from alarmlib.record.sections.electrical.power import power
from alarmlib.record.sections.electrical.radio import radio
from alarmlib.record.sections.electrical.sound import sound
from alarmlib.record.sections.upkeep.upkeep import upkeep
from alarmlib.record.wiring_lists import cables_csv, cells_csv, power_csv


@pytest.fixture(scope="module")
def context(demo: Home) -> Context:
    """The demo home for its owner, as the record is built."""
    return Context(demo, assess(demo), Share.OWNER, "2026-11-27")


def tables(context: Context, section: Section) -> dict[str, Table]:
    built = section.build(context)
    blocks = [block.table if isinstance(block, Picture) else block for block in built]
    return {block.caption: block for block in blocks if isinstance(block, Table)}


def test_power_sheet_of_the_demo_home(context: Context) -> None:
    """Loads and their total, the battery by its rule with the numbers put in, its course, boxes, volts."""
    found = tables(context, power)
    assert found["What is drawn from the battery"].rows[-1] == ("Together", "321 mA", "1.046 A")
    # by hand: the current is below 7 Ah over 20 h, so 12 h x 0.321 A of 7 Ah x 0.8 x 0.916
    assert found["How the battery empties"].rows[1] == ("12 h", f"{1 - 12 * 0.321 / (7 * 0.8 * 0.916):.0%}")
    assert found["The standby battery"].rows == (("7 Ah", "2026-09-19", "4 years", "2030-09-19"),)
    assert found["Boxes on a message's way, without mains"].rows[0][3] == "stops at once"
    assert all(row[5] == "enough" for row in found["Volts at each device"].rows)
    text = plain_blocks(power.build(context))
    assert f"Battery asked for: {1.25 * (0.321 * 12 + 1.046 * 0.05) / (0.90 + 0.04 * 2 / 5):.2f} Ah" in text
    assert "quiet = 0.321 A × 12 h" in text


def test_the_standby_battery_past_its_day(demo: Home) -> None:
    """The record says so after its day, in its section, its upkeep and its findings; a copy without dates does not."""
    late = Context(demo, assess(demo, today=date(2031, 1, 1)), Share.OWNER, "2031-01-01")
    assert tables(late, power)["The standby battery"].rows[0][3] == "2030-09-19, which is past"
    assert "battery.battery_due" in {finding.id for finding in late.assessment.findings}
    assert "Replace the standby battery by 2030-09-19." in plain_blocks(upkeep.build(late))
    in_class = Context(demo, late.assessment, Share.CLASS, "2031-01-01")
    assert "2030-09-19" not in plain_blocks(upkeep.build(in_class))


def test_loops_that_read_alike_share_a_row(context: Context) -> None:
    found = tables(context, loops)
    shares = found["Part of the circuit's voltage by state, worst case"].rows
    assert any("Front door circuit" in row[0] and "Hall motion circuit" in row[0] for row in shares)
    assert {row[1] for row in shares} >= {"short", "secure", "one contact open", "2 contacts open", "cut"}
    meter = {row[0].strip("\u2068\u2069"): row for row in found["What a meter reads at the unit's end, unit off"].rows}
    assert len(meter) == len(context.home.circuits)
    assert meter["Smoke detector circuit"][4] == meter["Smoke detector circuit"][2]  # tripped is a short
    read = found["What the meter showed"].rows
    assert all(row[5] == "as computed" for row in read)
    assert {row[4] for row in read} == {"shut: quiet; open: tripped", "shut: quiet"}
    assert {row[1]: row[5] for row in shares}.items() >= {"secure": "quiet", "2 contacts open": "tripped"}.items()


def test_a_row_of_alike_loops_shows_the_worst_of_them(demo: Home) -> None:
    """One loop of the row ends in 4720 Ω and does not come first: the row's highest share is its own."""
    ends = [{"end_resistor_ohm": 4720.0} if c.id == "front_door_loop" else {} for c in demo.circuits]
    circuits = [c.model_copy(update=end) for c, end in zip(demo.circuits, ends, strict=True)]
    home = demo.model_copy(update={"circuits": tuple(circuits)})
    found = tables(Context(home, assess(home), Share.OWNER, "2026-11-27"), loops)
    (row,) = (row for row in found["Part of the circuit's voltage by state, worst case"].rows
              if "Front door circuit" in row[0] and row[1] == "secure")  # fmt: skip
    assert row[0].startswith("\u2068Studio key circuit")
    most = 4720 * 1.01 + 2 * 18 * 0.095 + 0.2 + 10
    assert row[3] == f"{most / (most + 4700 * 0.99):.3f}"
    first = seen(home, home.circuits[0])
    assert first is not None
    assert f"{first.bands[1].high:.3f}" < row[3]


def test_how_far_cable_moves_a_share(context: Context) -> None:
    """Ten ohms more and a pull-up 1 % higher, by the divider itself."""
    text = plain_blocks(loops.build(context))
    told = next(line for line in text.splitlines() if line.startswith("10 Ω more cable"))
    rest, pull_up = 4700 + 0.2 + 2 * 48 * 0.095, 4700.0
    by_cable = (rest + 10) / (rest + 10 + pull_up) - rest / (rest + pull_up)
    by_pull_up = rest / (rest + pull_up) - rest / (rest + 1.01 * pull_up)
    assert f"raise its quiet percentage by {by_cable:.1g}, no other circuit by more; " in told
    assert f"lowers it by {by_pull_up:.1g}." in told


def test_schedule_shows_what_is_entered(context: Context) -> None:
    """By hand, as entered: circuits of 299 m, feeds of 131 m; a circuit's own label, six cores by its cable's name."""
    (table,) = tables(context, cables).values()
    assert table.caption == "Cables: 430 m entered, 0 m planned"
    assert table.header[2] == "Storeys, planned"  # nobody enters them: they are those of the planned routes
    rows = {row[1].replace("\u2068", "").replace("\u2069", ""): row for row in table.rows}
    windows = rows["Living room windows circuit: Living room front contact, Living room side contact"]
    assert (windows[0], windows[3], windows[4]) == ("LIVING ROOM WINDOWS", "27 m", "6")
    feed = rows["Sounder feed: Inside sounder, Outside siren"]
    assert (feed[0], feed[3], feed[4]) == ("SOUNDER FEED planned", "27 m", "4")
    assert len(rows) == len(context.home.circuits) + len(context.home.wiring.runs)


def _unmeasured(demo: Home) -> Home:
    """The demo home while it is planned: no length, label or cable of a circuit is entered, and no feed."""
    bare = [c.model_copy(update={"length_m": None, "label": "", "cable": ""}) for c in demo.circuits]
    return demo.model_copy(update={"circuits": tuple(bare), "wiring": demo.wiring.model_copy(update={"runs": ()})})


def test_schedule_plans_the_rest_and_names_what_no_wall_leads_to(demo: Home) -> None:
    """Each wired device's own shortest route, called planned; the studio's key switch has none."""
    home = _unmeasured(demo)
    context = Context(home, assess(home), Share.OWNER, "2026-11-27")
    (table,) = tables(context, cables).values()
    whole = sum(route.cut_m for route in routes(home)[0])
    assert table.caption == f"Cables: 0 m entered, {whole} m planned"
    assert all(row[0].endswith(" planned") and row[3].endswith(" planned") and row[4].endswith(" planned")
               for row in table.rows)  # fmt: skip
    text = plain_blocks(cables.build(context))
    assert "Studio key switch" in text.split("No wall on the plan")[1]


def test_one_truth_in_schedule_csv_loops_and_volts(demo: Home) -> None:
    """Where a length is entered the planned one is nowhere; where none is, the planned one is everywhere, and named."""
    planned_m = {route.device: route.cut_m for route in routes(demo)[0]}
    for entered in (18.0, None):
        circuits = [
            c.model_copy(update={"length_m": entered}) if c.id == "front_door_loop" else c for c in demo.circuits
        ]
        stops = [("hall_keypad", entered or 0.0), ("hall_motion", 5.0)]
        run = demo.wiring.runs[0].model_copy(update={"stops": tuple(Stop(device=d, metres=m) for d, m in stops)})
        wiring = demo.wiring.model_copy(update={"runs": (run,)})
        home = demo.model_copy(update={"circuits": tuple(circuits), "wiring": wiring})
        context = Context(home, assess(home), Share.OWNER, "2026-11-27")
        door_m, keypad_m = entered or planned_m["front_door_contact"], entered or planned_m["hall_keypad"]
        mark = "" if entered else " planned"
        shown = {
            row[1].replace("\u2068", "").replace("\u2069", ""): row for row in tables(context, cables).popitem()[1].rows
        }
        assert shown["Front door circuit: Front door contact"][3] == f"{door_m:g} m{mark}"
        listed = {row["Detector circuit or feed"]: row for row in rows(cables_csv(home))}
        assert float(listed["Front door circuit"]["Length (m)"]) == door_m
        assert ("length" in listed["Front door circuit"]["Planned, not entered"]) is (entered is None)
        assert float(listed["Ground floor feed"]["Length (m)"]) == keypad_m + 5
        loop = loop_of(home, next(c for c in home.circuits if c.id == "front_door_loop"))
        assert loop is not None
        assert loop.cable_ohm == pytest.approx(2 * door_m * 0.095 + 0.2)
        runs = tables(context, power)["Runs"].rows
        assert runs[0][2] == f"{keypad_m + 5:g} m{mark}"
        assert ("Cable taken as planned" in plain_blocks(loops.build(context))) is (entered is None)


def test_strips_and_their_table(context: Context, demo: Home) -> None:
    """A picture for each of three storeys; on the way down the table's lengths add up to the route's walls."""
    pictures = cable_pictures(context)
    assert [picture.title for picture in pictures if isinstance(picture, Picture)] == [
        f"Where cable is planned: {context.name('storey', storey)}" for storey in ("cellar", "ground", "upstairs")
    ]
    route = next(route for route in routes(demo)[0] if route.device == "cellar_motion")
    assert route.way[0][0] == "cellar"
    assert route.way[-1][0] == "upstairs"
    rows = [row for p in pictures if isinstance(p, Picture) for row in p.table.rows if row[0] == "CELLAR MOTION"]
    walls = sum(hypot(b[1] - a[1], b[2] - a[2]) for a, b in pairwise(route.way) if a[0] == b[0])
    assert sum(float(row[2].removesuffix(" m")) for row in rows) == pytest.approx(walls, abs=0.16)
    assert cable_pictures(Context(Home(), assess(Home()), Share.OWNER, "2026-11-27")) == ()


def test_cells_in_order_and_holes(context: Context) -> None:
    found = tables(context, radio)
    days = [row[0] for row in found["Batteries, the first to change first"].rows]
    assert days == sorted(days)
    assert ("2029-09-11", "computed") in {
        (row[0], row[3]) for row in found["Batteries, the first to change first"].rows
    }
    assert any("within 2 h" in row for row in found["What a flat battery leaves unguarded"].rows)


def test_pillows_in_a_fire_and_at_a_burglary(context: Context) -> None:
    found = tables(context, sound)
    fire = found["In a fire, all that sounds together at the pillow, doors closed"].rows
    night = found["At a burglary, the control unit's own sounders together, doors closed"].rows
    assert {row[3] for row in fire} == {"enough, as computed"}
    assert {row[3] for row in night} == {"too quiet"}
    assert "hard of hearing" in str(found["Who may not wake"].rows)


def test_day_of_fitting_is_done(context: Context, demo: Home) -> None:
    assert "Every step is ticked." in plain_blocks(fitting.build(context))
    begun = demo.model_copy(update={"wiring": demo.wiring.model_copy(update={"done": ("place",)})})
    text = plain_blocks(fitting.build(Context(begun, assess(begun), Share.OWNER, "2026-11-27")))
    assert "Next: Every cable is laid" in text


@pytest.mark.parametrize("section", [loops, power, cables, radio, sound, fitting])
def test_nothing_to_say_of_a_blank_home(section: Section) -> None:
    blank = Home()
    assert section.build(Context(blank, assess(blank), Share.OWNER, "2026-11-27")) == ()


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_lists_to_take_along(demo: Home) -> None:
    cut = rows(cables_csv(demo))
    assert (cut[0]["Detector circuit or feed"], cut[0]["Devices"]) == ("Studio key circuit", "Studio key switch")
    assert sum(float(row["Length (m)"]) for row in cut) == 430
    bare = rows(cables_csv(_unmeasured(demo)))
    assert sum(float(row["Length (m)"]) for row in bare) == sum(route.cut_m for route in routes(demo)[0])
    assert {row["Planned, not entered"] for row in bare} == {"label, length, cores"}
    sheet = rows(power_csv(demo))
    assert float(sheet[-1]["Quiet (mA)"]) == pytest.approx(1000 * load(demo).quiet_a)
    assert sum(float(row["In alarm (mA)"]) for row in sheet[:-1]) == pytest.approx(1000 * load(demo).alarm_a)
    cells = rows(cells_csv(demo))
    assert cells[0]["Change on"] == "2028-03-20"
    assert [row["Change on"] for row in cells] == sorted(row["Change on"] for row in cells)
    assert ("2030-09-19", "Standby battery") in {(row["Change on"], row["Device"]) for row in cells}


def test_lists_in_us_units(demo: Home) -> None:
    feet = rows(cables_csv(demo.model_copy(update={"units": UnitSystem.US})))
    metres = rows(cables_csv(demo))
    assert float(feet[0]["Length (ft)"]) == pytest.approx(float(metres[0]["Length (m)"]) / 0.3048, abs=0.01)


def test_charts_keep_within_their_sheet() -> None:
    """Bands at both ends, a level beyond the scale, an empty battery: nothing is drawn outside."""
    for drawing in (
        band_chart(
            [BandRow("a", ((0.0, 0.0, Fill.SOLID), (0.3, 0.4, Fill.NONE), (1.0, 1.0, Fill.DOTTED)))], [(0.5, "trip")]
        ),
        course_chart([(0, 1), (12, 0.4), (14, 0)], 12.5),
        level_chart([LevelRow("b", 140, 6), LevelRow("c", 10, 5)], 75),
    ):
        boxes = [shape for shape in drawing.shapes if isinstance(shape, Rect)]
        assert all(box.corner[0] >= 0 and box.corner[0] + box.width <= drawing.width for box in boxes)
        assert all(box.width >= 0 and box.height >= 0 for box in boxes)
