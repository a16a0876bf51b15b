"""What should be read, asked or done before the next step."""

from collections import Counter

from alarmlib.checks.cautions import CAUTIONS, STEPS, on_page
from alarmlib.checks.check import CheckGroup, Said, check, note, should
from alarmlib.checks.lookup import said
from alarmlib.model import Home
from alarmlib.model.questions import detectors, fitted, present
from alarmlib.model.site import BuildBand, Tenure
from alarmlib.rules import rules_of

_DUSTY = frozenset({BuildBand.BEFORE_1978, BuildBand.BEFORE_2000})


@check
def cautions_unread(home: Home) -> Said:
    """Each caution is read before the step that can hurt."""
    unread = [advice for advice in CAUTIONS if advice.id not in home.cautions_read]
    if unread:
        mounted = bool(fitted(home))
        message = f"{len(unread)} of {len(CAUTIONS)} cautions are not ticked yet."
        numbers = {"figure": str(len(CAUTIONS) - len(unread)), "limit": str(len(CAUTIONS))}
        say = should if mounted else note
        yield say("cautions", message, _where(home), "practice", **numbers)


def _where(home: Home) -> str:
    """The pages on which a caution is not ticked yet, by their numbers."""
    pages = dict.fromkeys(step.page for step in STEPS.values())
    unread = [page[:2] for page in pages if any(each.id not in home.cautions_read for each in on_page(page))]
    return f"Read and tick them before their steps, on {'page' if len(unread) == 1 else 'pages'} {', '.join(unread)}."


@check
def before_drilling(home: Home) -> Said:
    """Who owns the walls agrees, and old paint and ceilings are treated as what they may be."""
    if home.site.tenure is not Tenure.OWNED:
        message = "The walls are not yours alone."
        yield should("site", message, "Ask the landlord or the others before you drill, and note their answer.")
    if home.site.build_band in _DUSTY:
        message = "The home is of an age in which paint may hold lead and ceilings may hold asbestos."
        remedy = "Wet or contain the dust, do not drill textured ceilings, and have a sample tested."
        yield note("site", message, remedy, "caution_lead_dust")


@check
def names_alike(home: Home) -> Said:
    """No two devices have the same name."""
    times = Counter(device.name.casefold().strip() for device in present(home))
    for device in present(home):
        if times[device.name.casefold().strip()] > 1:
            message = f"{said(device.name)} is the name of more than one device."
            yield note(
                device.id,
                message,
                "Give each a name of its own, so that the test log says which one is meant.",
                "owner",
            )


@check
def no_detectors(home: Home) -> Said:
    """A home with rooms has detectors planned."""
    if home.site.rooms and not detectors(home):
        yield should("devices", "No detector is planned yet.", "Plan your detectors on page 02.", "owner")


@check
def rules_no_longer_offered(home: Home) -> Said:
    """The rules that the home has chosen are among those that the workbook knows well enough to offer."""
    why = rules_of(home).not_offered
    if why:
        remedy = "Ask your authority which limits hold for you. Keep your choice, or choose other rules on page 00."
        yield should("rules", why, remedy, "owner")


GROUP = CheckGroup("readiness", (cautions_unread, before_drilling, names_alike, no_detectors, rules_no_longer_offered))
