"""The words of the job: every closed list a home file may use, with the text a person reads."""

from enum import StrEnum


class Word(StrEnum):
    """A closed list: the stored value is the lower-case name, the text is what a person reads."""

    text: str

    def __new__(cls, value: str, text: str = "") -> "Word":
        member = str.__new__(cls, value)
        member._value_ = value
        member.text = text or value.replace("_", " ")
        return member


class Share(Word):
    """Who may read a field in a copy; each level sees all that stands in the levels after it."""

    OWNER = "owner", "the owner only"
    HELPER = "helper", "a trusted helper"
    CLASS = "class", "a class"
    PUBLIC = "public", "anybody"


class RuleSet(Word):
    """Whose limits are checked; the local code wins in every case."""

    US = "us", "United States (NFPA, UL and ANSI/SIA documents)"
    EUROPE = "europe", "Europe (EN 50131)"
    BRITAIN = "britain", "Britain (EN 50131 with British codes)"
    AUSTRALASIA = "australasia", "Australia and New Zealand (AS/NZS 2201.1)"


class UnitSystem(Word):
    """Units in forms and record; the home file keeps SI."""

    METRIC = "metric", "metric (m, °C)"
    US = "us", "US (ft and in, °F)"


class StartPoint(Word):
    """What the owner starts from."""

    NOTHING = "nothing", "nothing yet"
    KIT_IN_BOX = "kit_in_box", "a kit still in its box"
    WORKING = "working", "a working system"
    OLD_UNKNOWN = "old_unknown", "an old system of which little is known"


class Function(Word):
    """How the control unit treats a trip of a zone; who is listening is said by the part set."""

    FINAL_DOOR = "final_door", "final door (starts the entry delay)"
    ENTRY_ROUTE = "entry_route", "entry route (waits for a running entry delay, else at once)"
    PERIMETER = "perimeter", "perimeter (at once)"
    INTERIOR = "interior", "interior (at once)"
    INTERIOR_DELAYED = "interior_delayed", "interior, delayed (starts the entry delay)"
    DAY = "day", "day (trouble while unset, at once while set)"
    ALWAYS_AUDIBLE = "always_audible", "always, with siren"
    ALWAYS_SILENT = "always_silent", "always, silent message"
    PANIC = "panic", "panic"
    TAMPER = "tamper", "tamper"
    FIRE = "fire", "fire"
    CARBON_MONOXIDE = "carbon_monoxide", "carbon monoxide"
    WATER = "water", "water"
    COLD = "cold", "cold"
    KEY_SWITCH = "key_switch", "key switch"
    UNUSED = "unused", "unused"


LIFE_SAFETY = frozenset({Function.FIRE, Function.CARBON_MONOXIDE})
BURGLARY = frozenset(
    {
        Function.FINAL_DOOR,
        Function.ENTRY_ROUTE,
        Function.PERIMETER,
        Function.INTERIOR,
        Function.INTERIOR_DELAYED,
        Function.DAY,
    }
)


class DeviceKind(Word):
    """What a device is; what it detects and how it is fitted follow from this and its own facts."""

    CONTACT = "contact", "contact on a door or window"
    MOTION = "motion", "motion detector"
    GLASS_BREAK = "glass_break", "glass-break detector"
    SHOCK = "shock", "shock detector"
    SMOKE = "smoke", "smoke detector"
    HEAT = "heat", "heat detector"
    CARBON_MONOXIDE = "carbon_monoxide", "carbon monoxide detector"
    WATER = "water", "water detector"
    COLD = "cold", "low-temperature sensor"
    PANIC_BUTTON = "panic_button", "panic button"
    KEY_SWITCH = "key_switch", "key switch"
    KEYPAD = "keypad", "keypad"
    FOB = "fob", "fob"
    INSIDE_SOUNDER = "inside_sounder", "inside sounder"
    OUTSIDE_SOUNDER = "outside_sounder", "outside sounder"
    REPEATER = "repeater", "repeater"
    CONTROL_UNIT = "control_unit", "control unit"
    POWER_SUPPLY = "power_supply", "power supply"
    MESSAGE_SENDER = "message_sender", "message sender"
    CAMERA = "camera", "camera"


DETECTORS = frozenset(
    {
        DeviceKind.CONTACT,
        DeviceKind.MOTION,
        DeviceKind.GLASS_BREAK,
        DeviceKind.SHOCK,
        DeviceKind.SMOKE,
        DeviceKind.HEAT,
        DeviceKind.CARBON_MONOXIDE,
        DeviceKind.WATER,
        DeviceKind.COLD,
        DeviceKind.PANIC_BUTTON,
        DeviceKind.KEY_SWITCH,
    }
)
HAZARD_KINDS = frozenset({DeviceKind.SMOKE, DeviceKind.HEAT, DeviceKind.CARBON_MONOXIDE})
PLAIN_CONTACTS = frozenset({DeviceKind.CONTACT, DeviceKind.PANIC_BUTTON, DeviceKind.KEY_SWITCH})


class Link(Word):
    """How a device reaches the control unit."""

    WIRED = "wired", "wired"
    WIRE_FREE = "wire_free", "wire-free"
    OWN = "own", "stands alone, not joined to the unit"


class Trouble(Word):
    """What the control unit can find wrong with itself."""

    MAINS = "mains", "mains lost"
    BATTERY = "battery", "standby battery low"
    DEVICE_MISSING = "device_missing", "device missing"
    LOW_CELL = "low_cell", "device battery low"
    TAMPER = "tamper", "tamper"
    MESSAGE_PATH = "message_path", "message path down"
    SIREN_LINE = "siren_line", "siren line fault"
    CLOCK = "clock", "clock not set"


class EventKind(Word):
    """For what a message is sent."""

    FIRE = "fire", "fire"
    CARBON_MONOXIDE = "carbon_monoxide", "carbon monoxide"
    HOLD_UP = "hold_up", "panic"
    BURGLARY = "burglary", "burglary"
    TAMPER = "tamper", "tamper"
    WATER = "water", "water"
    COLD = "cold", "cold"
    TROUBLE = "trouble", "trouble"
    SET_UNSET = "set_unset", "set and unset"
