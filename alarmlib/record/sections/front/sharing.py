"""What this copy leaves out, and what no copy can promise."""

from alarmlib.model.words import Share
from alarmlib.record.blocks import Block, Bullets, Caution, Text
from alarmlib.record.context import Context

ID = "sharing"
TITLE = "Who may read this copy"
NEEDS: tuple[str, ...] = ()
LEVEL = Share.PUBLIC

_LEFT_OUT = {
    Share.OWNER: "Nothing is left out of this copy. Keep it where you keep other private documents.",
    Share.HELPER: "This copy is for a helper you trust. It leaves out what is still open, tests, your notes, "
    "habits, and when people are away. It leaves out where devices are, ways in without a detector, blind spots, "
    "cable routes, and who sleeps where. Names of rooms, doors and devices are as you typed them: "
    "look whether one tells too much.",
    Share.CLASS: "This copy is for a class. Names, devices' places, times, messages and everything that is still open "
    "are left out.",
    Share.PUBLIC: "This copy is for anybody. Only what says nothing about where the home is weak is left in.",
}


def build(context: Context) -> tuple[Block, ...]:
    """The notice for the copy at hand."""
    return (
        Text((_LEFT_OUT[context.copy],)),
        Bullets(
            (
                (
                    "No field of the workbook asks for a code, a password, a key's place, a date of absence, an "
                    "address or a list of valuables. Write them nowhere near this record."
                ),
                (
                    "A text that looks like one of these is left out of every copy but the owner's. Detection of "
                    "secrets can't be complete: read the copy before you hand it on."
                ),
                "Contacts, phone numbers and permit numbers are for you to write on the printed page by hand.",
            )
        ),
        Caution("Do not say when your home is empty, except to people who must know.", "caution_police_secrecy"),
    )
