"""What a draft from the short path takes for granted, a sentence each."""

from collections.abc import Iterator

from alarmlib.draft.lines import commas
from alarmlib.draft.site import SiteDraft, rooms_read
from alarmlib.model.site import Opening, Reach, Yes
from alarmlib.model.unit_facts import Recognises


def assumed(site: SiteDraft) -> Iterator[str]:
    """Every assumption of the draft; a question that was answered takes its own away."""
    yield (
        "Every detector is assumed to be wireless and in the best place of its room. Walls and furniture were not "
        "looked at."
    )
    yield from rooms_read(site.named)
    yield from _of_the_walk(site)
    yield from _of_reach(site)
    for room in site.apart:
        yield f"“{room.name}” is assumed to be a building apart, with one door and no inside way to the house."
    yield from _of_the_night(site)
    yield from _of_the_unit(site)
    yield from _of_other_alarms(site)


def _of_the_walk(site: SiteDraft) -> Iterator[str]:
    answers = site.answers
    if not answers.walk_s:
        yield "No walk was timed: walking times come from the rooms passed and from published walking speeds."
    if answers.people is None:
        yield "One person is assumed to live here."
    if "joined" in commas(answers.not_known) and not answers.inner_doors.strip():
        yield "Each hall is assumed to lead to every room of its storey, and the halls to be joined by stairs."
    elif not answers.inner_doors.strip() and len(site.rooms) > 1:
        yield "No inside doors were listed, so routes between rooms are not known."


def _of_reach(site: SiteDraft) -> Iterator[str]:
    high = [window for window in site.windows if window.reach is Reach.NOT]
    if high:
        yield (
            f"{_names(high)} {'is' if len(high) == 1 else 'are'} assumed to be out of reach without a ladder. If a "
            "roof, a balcony or a tree leads there, write that after the room."
        )
    upper = [window for window in site.windows if site.upstairs(window.room) and window.reach is not Reach.NOT]
    for window in upper:
        yield f"{_names([window])}, above the ground floor, is assumed to be reached {window.reach.text}, as you wrote."
    for door in site.doors:
        if site.upstairs(door.room):
            how = "can be reached" if door.reach is Reach.UNKNOWN else f"can be reached {door.reach.text}"
            yield f"{_names([door])}, above the ground floor, is assumed to be a door that {how}."


def _names(openings: list[Opening]) -> str:
    return ", ".join(f"“{opening.name}”" for opening in openings)


def _of_the_night(site: SiteDraft) -> Iterator[str]:
    if not site.answers.night_set:
        return
    beds = [room for room in site.rooms if room.sleeps_here]
    if beds and not site.beds_told:
        names = ", ".join(f"“{room.name}”" for room in beds)
        yield f"Somebody is assumed to sleep in each room that is called a bedroom: {names}."
    if beds:
        yield (
            "At night every door alarms at once, or a bedroom could be reached before the siren. "
            "Whoever comes home later must be let in by somebody who unsets first."
        )
        yield "At night nobody leaves the way between bedroom, bathroom and keypad without unsetting first."


def _of_the_unit(site: SiteDraft) -> Iterator[str]:
    answers = site.answers
    if not answers.keypad_room.strip():
        yield "The keypad is assumed to be in the room behind the door by which you come home."
    if not answers.unit_room.strip():
        yield (
            "The control unit is assumed to be away from the doors by which you come home, where there is such a room."
        )
    if answers.zones is None:
        yield "The number of zones of your control unit is not known, so as many as you need are assumed."
    if answers.recognises is Recognises.UNKNOWN:
        yield "Your control unit is assumed to show each device by itself."


def _of_other_alarms(site: SiteDraft) -> Iterator[str]:
    answers = site.answers
    if answers.smoke_alarms is Yes.YES:
        yield "Your smoke alarms are assumed to be in each bedroom and in a hall of each storey. Check each place."
    elif answers.smoke_alarms is Yes.UNKNOWN:
        yield "Nothing is known about smoke alarms; the record lists that as open."
    if answers.fuel is Yes.UNKNOWN:
        yield "Nothing is known about boilers, stoves and fireplaces; the record lists that as open."
    elif answers.fuel is Yes.YES and not site.burning:
        yield "It is not known in which rooms something burns, so no place of a CO alarm follows from it."
    if answers.wont_wake is Yes.UNKNOWN:
        yield "Everybody is assumed to wake by an alarm. Ask each person, and think of children and of who hears badly."
    if answers.answers_siren is Yes.YES:
        yield "Whoever near you answers the siren is assumed to hear of a burglary in that way. Ask them first."
    elif answers.answers_siren is Yes.UNKNOWN:
        yield "It is not known whether somebody near you would answer a siren, so nobody is assumed to."
