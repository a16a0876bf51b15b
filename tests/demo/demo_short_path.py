"""What the family of the invented home answered on the short path, before the survey."""

from alarmlib.model.short_path import Pace, Pets, ShortPath
from alarmlib.model.site import Yes
from alarmlib.model.unit_facts import Recognises

YES = Yes.YES


def short_path() -> ShortPath:
    """The short path as this family answered it before the survey."""
    return ShortPath(
        rooms=(
            "Hall\nLiving room\nDining room\nConservatory\nKitchen\nPantry\nUtility room\nStudy\nGarage\n"
            "Landing, upstairs\nMain bedroom, upstairs\nSpare room, upstairs\nTeenager's room, upstairs\n"
            "Grandparent's room, upstairs\nBox room, upstairs\nStore cellar, cellar\nBoiler room, cellar"
        ),
        outside_doors=(
            "Front door: Hall\nBack door: Kitchen\nGarage door: Garage\nConservatory sliding door: Conservatory"
        ),
        home_by="Front door, Back door, Garage door",
        windows=(
            "Living room front window: Living room\nLiving room side window: Living room\n"
            "Dining room window: Dining room\nKitchen window: Kitchen\nPantry window: Pantry\n"
            "Study window: Study\nGarage window: Garage\nCellar light: Store cellar\n"
            "Teenager's window: Teenager's room\nSpare room window: Spare room"
        ),
        inner_doors=(
            "Hall: Living room, Kitchen, Study, Landing, Store cellar\nLiving room: Dining room\n"
            "Dining room: Kitchen, Conservatory\nKitchen: Pantry, Utility room\nUtility room: Garage\n"
            "Landing: Main bedroom, Spare room, Teenager's room, Grandparent's room, Box room\n"
            "Store cellar: Boiler room"
        ),
        keypad_room="Hall",
        unit_room="Box room",
        bedrooms="Main bedroom, Teenager's room, Grandparent's room",
        people=4,
        pace=Pace.SLOW,
        carries=True,
        walk_s=25,
        pets=Pets.FLOOR,
        pets_at_night=True,
        recognises=Recognises.BOTH,
        zones=48,
        night_set=True,
        smoke_alarms=YES,
        fuel=YES,
        answers_siren=YES,
    )
