"""Which season's settings are in force on a day, and the control unit as it is set then."""

from datetime import date

from alarmlib.model.control_unit import ControlUnit, DoorTimes, Season, SeasonBy, Times, Zone

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


def season_in_force(unit: ControlUnit, day: date | None) -> Season | None:
    """The season in force: by the month of the day, the first that claims it, unless the owner says which.

    None for the ordinary set, also where the date decides and no day is given.
    Our own definition: a season is the months its owner names.
    """
    if unit.season_by is SeasonBy.OWNER:
        return next((season for season in unit.seasons if season.id == unit.season_now), None)
    return next((season for season in unit.seasons if day is not None and day.month in season.months), None)


def unit_in(unit: ControlUnit, season: Season | None) -> ControlUnit:
    """The unit as it is set in a season, the season's values in the place of the ordinary ones; None: as it is.

    The project's own control unit (`control.from_home`), which tests hold this against.
    """
    if season is None:
        return unit
    differs = {each.zone: each for each in season.zones}

    def zone_in(zone: Zone) -> Zone:
        other = differs.get(zone.id)
        if other is None:
            return zone
        facts = {
            "function": other.function or zone.function,
            "out_of_use": zone.out_of_use or other.out_of_use,
        }
        return zone.model_copy(update=facts)

    return unit.model_copy(
        update={"times": times_in(unit.times, season), "zones": tuple(map(zone_in, unit.zones)), "seasons": ()}
    )


def times_in(times: Times, season: Season) -> Times:
    """The season's times; an entry/exit door that the season names has the season's own, whole.

    The project's own control unit (`control.from_home`), which tests hold this against.
    """
    doors: dict[str, DoorTimes] = {door.opening: door for door in (*times.doors, *season.doors)}
    return times.model_copy(
        update={
            "entry_s": times.entry_s if season.entry_s is None else season.entry_s,
            "exit_s": times.exit_s if season.exit_s is None else season.exit_s,
            "doors": tuple(doors.values()),
        }
    )


def months_of(season: Season) -> str:
    """The months of a season in words."""
    return ", ".join(MONTHS[month - 1] for month in season.months if 1 <= month <= len(MONTHS))
