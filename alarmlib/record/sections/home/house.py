"""The house and its plans, who lives there and who comes, and the kit that came with it."""

from collections.abc import Iterator

from alarmlib.model.household import Deed, Habit, HabitStep
from alarmlib.model.questions import present
from alarmlib.model.site import Storey
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Picture, Table, Text, named
from alarmlib.record.context import Context
from alarmlib.record.floor_plan import drawn_rooms, floor_plan, marks
from alarmlib.record.rows import fact_table, note_table, part_table, plain_value
from alarmlib.record.section import section
from alarmlib.units import Kind

_ROOMS = ("name", "storey", "use", "area", "guarded", "ceiling_m", "door_shut_at_night", "disturbances", "two_ways_out")
_OPENINGS = ("name", "room", "kind", "entry_exit", "reach", "sill_m", "seen_by_others", "glass", "frame", "kept_open")
_FOUND = ("name", "lock", "latches_in_wind", "escape_way", "opens_without_key", "by_day", "by_night")
_PASSAGES = ("kind", "width_m", "slope_m", "seconds", "shut_at_night")


@section("house", "The house", level=Share.CLASS, needs=("site.rooms",))
def house(context: Context) -> Iterator[Block]:
    """Tables of the house; columns nobody filled in are left out."""
    site = context.home.site
    yield fact_table(context, "The house card", (site,))
    yield from note_table(context, "Note on the home", (context.home,), ("note",))
    if context.copy is Share.HELPER:  # beside devices by name, all rooms and ways in by name tell which have none
        return
    yield part_table(context, "Rooms", site.rooms, _ROOMS, keep=3)
    if site.openings:
        yield part_table(context, "Ways in", site.openings, _OPENINGS, keep=3)
    if site.openings and context.sees(Share.OWNER):
        yield part_table(context, "Ways in: what the round found", site.openings, _FOUND)
    if site.passages:
        ways = ("Way", lambda passage: context.name("passage", passage.id))
        yield part_table(context, "How rooms are joined", site.passages, (ways, *_PASSAGES), keep=2)
    parts = (*site.rooms, *site.openings)
    yield from note_table(context, "Reasons and notes on rooms and ways in", parts, ("left_bare_because", "note"))


_KEY = (
    "Plain numbers are rooms, numbers in squares are ways in, and letters in circles are devices. A black diamond "
    "joins two rooms. A dashed stroke shows where a detector faces."
)


@section("plan", "Plans", level=Share.OWNER, needs=("site.storeys", "site.rooms"))
def plan(context: Context) -> tuple[Block, ...]:
    """A picture for each storey with outlines; the others are named."""
    storeys = sorted(context.home.site.storeys, key=lambda storey: storey.level)
    blocks: list[Block] = [_picture(context, s) for s in storeys if drawn_rooms(context.home, s.id)]
    bare = [context.name("storey", s.id) for s in storeys if not drawn_rooms(context.home, s.id)]
    if bare:
        blocks.append(
            Text(
                (
                    (
                        f"No plan was drawn of: {', '.join(bare)}. Rooms, doors and seconds are used for the "
                        "calculations there."
                    ),
                )
            )
        )
    return tuple(blocks)


def _picture(context: Context, storey: Storey) -> Picture:
    name = context.name("storey", storey.id)
    table = Table(f"What is on the plan: {name}", ("Mark", "What", "Kind", "Room"), tuple(_rows(context, storey)))
    return Picture(f"Plan: {name}", _KEY, floor_plan(context.home, storey.id), table)


def _rows(context: Context, storey: Storey) -> Iterator[tuple[str, str, str, str]]:
    site, mark = context.home.site, marks(context.home)
    inside = {room.id for room in site.rooms if room.storey == storey.id}
    for room in site.rooms:
        if room.id in inside:
            yield mark["room", room.id], context.name("room", room.id), room.use.text, ""
    for opening in site.openings:
        if opening.room in inside:
            yield (
                f"square {mark['opening', opening.id]}",
                context.name("opening", opening.id),
                opening.kind.text,
                context.name("room", opening.room),
            )
    for device in present(context.home):
        if device.room in inside:
            yield (
                mark["device", device.id],
                context.name("device", device.id),
                device.kind.text,
                context.name("room", device.room),
            )


_DONE_TO = frozenset({Deed.WALK_TO, Deed.OPEN, Deed.CLOSE, Deed.UNSET, Deed.INHIBIT, Deed.SILENCE, Deed.RESET})
_PEOPLE = (
    "role",
    "age",
    "slow",
    "carries",
    "speed_m_s",
    "keying_s",
    "unlock_s",
    "entries_a_week",
    "can_unset",
    "fob",
    "user_slot",
    "trained_on",
)
_SLEEP = ("role", "sleeps_in", "deep_sleeper", "hard_of_hearing", "needs_help_out")
_PETS = ("kind", "mass_kg", "reaches_m", "free_in_day", "free_in_night", "free_when_empty")
_VISITORS = ("role", "door", "often", "can_unset", "user_slot", "trained_on")


@section("household", "People, pets and visitors", level=Share.CLASS, needs=("household.people",))
def household(context: Context) -> Iterator[Block]:
    """Who lives here, who comes, what they do."""
    household = context.home.household
    yield part_table(context, "People", household.people, _PEOPLE)
    if context.sees(Share.OWNER):
        yield part_table(context, "Who sleeps where, and who may not wake", household.people, _SLEEP)
        yield from note_table(context, "Notes on people", household.people, ("note",))
        yield fact_table(context, "When nobody is at home", (household,))
    if household.pets:
        yield part_table(context, "Pets", household.pets, _PETS)
    if household.visitors and context.sees(Share.HELPER):
        yield part_table(context, "Visitors", household.visitors, _VISITORS)
    if household.habits and context.sees(Share.OWNER):
        rows = tuple(_habit(context, habit) for habit in household.habits)
        yield from note_table(context, "Notes on habits", household.habits, ("note",))
        yield Table(
            "Habits that the alarm must allow for",
            ("Habit", "State when it begins", "Steps", "What the alarm should do"),
            rows,
        )


def _habit(context: Context, habit: Habit) -> tuple[str, str, str, str]:
    begins = context.name("part set", habit.part_set) if habit.part_set else habit.begins_in.text
    steps = (" ".join(filter(None, (_deed(context, step), _takes(context, step.seconds)))) for step in habit.steps)
    who = f" ({context.any_name(habit.who)})" if habit.who else ""
    return named(habit.name) + who, begins, "; ".join(steps), habit.expected.text


def _deed(context: Context, step: HabitStep) -> str:
    place = context.any_name(step.place)
    between = " " if step.deed in _DONE_TO else ": "  # walk to Hall, but press hold-up: Hall keypad
    return f"{step.deed.text}{between}{place}" if place else step.deed.text


def _takes(context: Context, seconds: float | None) -> str:
    return "" if seconds is None else f"({plain_value(seconds, Kind.TIME, context.home.units)})"


_ITEMS = ("what", "room", "pair", "closed_ohm", "open_ohm", "answers", "unknown", "fate", "device")


@section("inherited", "Kit that came with the home", level=Share.OWNER, needs=("inherited.items",))
def inherited(context: Context) -> tuple[Block, ...]:
    """Each item found, and the three ticks about old access."""
    inherited = context.home.inherited
    found = part_table(context, "Found in the walls", inherited.items, _ITEMS, keep=2)
    return (found, fact_table(context, "Old contract, users and access", (inherited,)))
