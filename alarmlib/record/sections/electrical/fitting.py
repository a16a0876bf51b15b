"""The day of fitting: every step in its order, what is done, and where the line stands."""

from collections.abc import Iterator

from alarmlib.calc.electrical.fitting_day import FittingStep, halted_at, steps
from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Table, Text
from alarmlib.record.context import Context

ID = "fitting"
TITLE = "The day of fitting"
NEEDS = ("devices",)
LEVEL = Share.OWNER


def build(context: Context) -> tuple[Block, ...]:
    """The steps with ticks; the step at which the line stands."""
    return tuple(_blocks(context)) if context.home.whole_devices else ()


def _blocks(context: Context) -> Iterator[Block]:
    todo = steps(context.home)
    halt, done = halted_at(context.home), set(context.home.wiring.done)
    if halt.step is None:
        yield Text(("Every step is ticked.",))
    else:
        yield Text((f"Next: {halt.step.text}{f' STOPPED: {halt.why}' if halt.why else ''}",))
    free = [step.id for step in todo if step.id.startswith("free_") and step.id in done]
    shown = [step for step in todo if step.id not in free[1:]]
    rows = tuple(_row(number, step, len(free), step.id in done) for number, step in enumerate(shown, 1))
    yield Table("The steps in their order", ("No.", "Step", "Done"), rows, frozenset({0}))


def _row(number: int, step: FittingStep, free: int, done: bool) -> tuple[str, str, str]:
    """A row a step; wireless devices that are done share one."""
    many = done and step.id.startswith("free_") and free > 1
    text = (
        (f"{free} wireless devices: each enrolled at the table, named, mounted, its signal read.")
        if many
        else step.text
    )
    return str(number), text, "✓ done" if done else "☐"
