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
    """Who may read a field in a copy; each level sees all that the levels after it see."""

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
    """How the control unit treats a trip of a zone; the part set says who is listening."""

    ENTRY_EXIT = "entry_exit", "starts the entry delay"
    ENTRY_ROUTE = "entry_route", "entry route (waits for a running entry delay, else alarm)"
    AT_ONCE = "at_once", "alarm at once"
    WARN_UNSET = "warn_unset", "warning when unset, alarm when set"
    ALWAYS_SIREN = "always_siren", "24-hour, siren"
    ALWAYS_MESSAGE = "always_message", "24-hour, message only"
    HOLD_UP = "hold_up", "hold-up"
    TAMPER = "tamper", "tamper"
    FIRE = "fire", "fire"
    CARBON_MONOXIDE = "carbon_monoxide", "carbon monoxide"
    WATER = "water", "water"
    LOW_TEMPERATURE = "low_temperature", "low temperature"
    KEY_SWITCH = "key_switch", "key switch"
    UNUSED = "unused", "unused"


LIFE_SAFETY = frozenset({Function.FIRE, Function.CARBON_MONOXIDE})
BURGLARY = frozenset(
    {
        Function.ENTRY_EXIT,
        Function.ENTRY_ROUTE,
        Function.AT_ONCE,
        Function.WARN_UNSET,
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
    LOW_TEMPERATURE = "low_temperature", "low-temperature sensor"
    HOLD_UP = "hold_up", "hold-up button"
    KEY_SWITCH = "key_switch", "key switch"
    KEYPAD = "keypad", "keypad"
    FOB = "fob", "fob"
    INSIDE_SOUNDER = "inside_sounder", "inside sounder"
    OUTSIDE_SIREN = "outside_siren", "outside siren"
    REPEATER = "repeater", "repeater"
    CONTROL_UNIT = "control_unit", "control unit"
    POWER_SUPPLY = "power_supply", "power supply"
    COMMUNICATOR = "communicator", "communicator"
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
        DeviceKind.LOW_TEMPERATURE,
        DeviceKind.HOLD_UP,
        DeviceKind.KEY_SWITCH,
    }
)
HAZARD_KINDS = frozenset({DeviceKind.SMOKE, DeviceKind.HEAT, DeviceKind.CARBON_MONOXIDE})
PLAIN_CONTACTS = frozenset({DeviceKind.CONTACT, DeviceKind.HOLD_UP, DeviceKind.KEY_SWITCH})


class Link(Word):
    """How a device reaches the control unit."""

    WIRED = "wired", "wired"
    WIRELESS = "wireless", "wireless"
    OWN = "own", "works alone, without the control unit"


class FaultKind(Word):
    """What the control unit can find wrong with itself."""

    MAINS = "mains", "mains lost"
    STANDBY_BATTERY = "standby_battery", "standby battery low"
    DEVICE_MISSING = "device_missing", "device missing"
    LOW_BATTERY = "low_battery", "device battery low"
    TAMPER = "tamper", "tamper"
    TRANSMISSION_PATH = "transmission_path", "transmission path down"
    SIREN_LINE = "siren_line", "siren line fault"
    CLOCK = "clock", "clock not set"


class EventKind(Word):
    """For what a message is sent."""

    FIRE = "fire", "fire"
    CARBON_MONOXIDE = "carbon_monoxide", "carbon monoxide"
    HOLD_UP = "hold_up", "hold-up"
    BURGLARY = "burglary", "burglary"
    TAMPER = "tamper", "tamper"
    WATER = "water", "water"
    LOW_TEMPERATURE = "low_temperature", "low temperature"
    FAULT = "fault", "fault"
    SET_UNSET = "set_unset", "set and unset"
