"""The pairs of words by country: British as the texts are written, American beside; each pair is written here alone.

Reference: common usage of the trade in both countries, no source.
"""

from alarmlib.rules.words import Words

# What sets or is set by no alarm: these phrases stay as they are.
_NOT_THE_ALARM = """
be set on your unit|can be set on|cannot be set on|delay to be set|time to be set|is set to|are set to|was set to
is set by|is set in|rule set|sets it off|set it off|are set by
is set at|are set at|be set to|be set at|factory-set|default
"""
_SET = {
    "set and unset": "arm and disarm", "sets and unsets": "arms and disarms", "set or unset": "arm or disarm",
    "setting and unsetting": "arming and disarming", "setting or unsetting": "arming or disarming",
    "setting, unsetting": "arming, disarming", "set, then unset": "arm, then disarm",
    "is set and unset": "is armed and disarmed", "are set and unset": "are armed and disarmed",
    "set or not": "armed or not", "set the alarm": "arm the alarm", "sets the alarm": "arms the alarm",
    "setting the alarm": "arming the alarm", "set the area": "arm the area", "set the system": "arm the system",
    "set it while": "arm it while", "sets it while": "arms it while", "set it with": "arm it with",
    "before you set it": "before you arm it", "when you set it": "when you arm it", "if you set it": "if you arm it",
    "you setting it": "you arming it", "before you set": "before you arm", "when you set": "when you arm",
    "how you set": "how you arm", "you set and": "you arm and", "while you set": "while you arm",
    "refuses to set": "refuses to arm", "does not set": "does not arm", "sets instead": "arms instead",
    "set again": "arm again", "is set": "is armed", "are set": "are armed", "was set": "was armed",
    "were set": "were armed", "been set": "been armed", "being set": "being armed", "while set": "while armed",
    "when set": "when armed", "once set": "once armed", "stays set": "stays armed", "stay set": "stay armed",
    "is still set": "is still armed", "is not set": "is not armed", "isn't set": "isn't armed",
    "refuses to be set": "refuses to be armed", "able to be set": "able to be armed", "can be set": "can be armed",
    "set (": "armed (", "set with an exit": "armed with an exit", "set, but left": "armed, but left",
    "ends set,": "ends armed,", "alarm set": "alarm armed", "fully set": "fully armed",
    "setting is": "arming is", "setting was": "arming was", "setting will": "arming will",
    "setting waits": "arming waits",
    "setting not completed": "arming not completed", "complete setting": "complete arming",
    "completes setting": "completes arming", "holds up setting": "holds up arming", "hold up setting": "hold up arming",
    "prevents setting": "prevents arming", "prevent setting": "prevent arming", "after setting": "after arming",
    "before setting": "before arming", "while setting": "while arming", "when setting": "when arming",
    "at setting": "at arming", "during setting": "during arming", "stops setting": "stops arming",
    "one set period": "one armed period", "a set period": "an armed period", "this set period": "this armed period",
    "each set period": "each armed period", "set period": "armed period", "set periods": "armed periods",
    "set with nobody in": "arm with nobody in", "set a part set": "arm in a part-armed mode",
    "set:": "armed:", "set in another way": "armed in another way", "set, and": "armed, and",
    "setting refused": "arming refused", "setting and trips": "arming and trips",
    "way of setting": "way of arming", "ways of setting": "ways of arming",
    "it is set in the way": "it is armed in the way", "forgets to set": "forgets to arm", "sets it": "arms it",
    "sets or unsets": "arms or disarms", "fob sets": "fob arms", "stop setting": "stop arming",
    "set or unset until": "armed or disarmed until", "set or unset;": "armed or disarmed;",
    "armed away": "armed (nobody in)",
    **{f"{state} part set": f"{state} part armed" for state in ("is", "are", "be", "while", "when")},
    "part set instead": "part armed instead", "part set (": "part armed (",
    "part set or unset": "part armed or disarmed", "in that set": "in that mode", "in every set": "in every mode",
    "part set is on": "part-armed mode is on",
    "part sets": "part-armed modes", "part set": "part-armed mode", "part-set": "part-armed",
    "part setting": "part arming",
}  # fmt: skip
_MAY_UNSET = "to can cannot can't may must could would should will who and then you they people nobody somebody not"
_STATE = "is|are|was|be|while|when|until|set or"
_UNSET = {
    **{f"{before} unset": f"{before} disarm" for before in _MAY_UNSET.split()},
    **{f"unset {after}": f"disarm {after}" for after in ("it", "the", "from", "with", "there", "your", "at once")},
    **{f"{state} unset": f"{state} disarmed" for state in _STATE.split("|")},
    **{f"{state} unset with": f"{state} disarmed with" for state in ("is", "are", "was", "be")},
    **{f"{state} unset from": f"{state} disarmed from" for state in ("is", "are", "was", "be")},
    **{f"{state} unset the": f"{state} disarmed the" for state in ("is", "while", "when", "until")},
    "unset": "disarmed", "unsets": "disarms", "unsetting": "disarming",
}  # fmt: skip
_THINGS = {
    "left out this time": "bypassed this time", "leave out this time": "bypass this time",
    "leaving out this time": "bypassing this time", "leaves out this time": "bypasses this time",
    "hold-up button": "panic button", "hold-up buttons": "panic buttons", "hold-up": "panic", "hold-ups": "panics",
    "fault": "trouble", "faults": "troubles", "faulty": "faulty", "earth fault": "ground fault",
    "earth faults": "ground faults", "ground fault": "ground fault", "ground faults": "ground faults",
    "earth": "ground", "earthed": "grounded", "earthing": "grounding",
    "the mains": "house power", "mains": "house power", "mains wiring": "house wiring", "mains voltage": "line voltage",
    "storey": "floor", "storeys": "floors",
}  # fmt: skip
_SPELLING = {
    "metre": "meter", "metres": "meters", "millimetre": "millimeter", "millimetres": "millimeters",
    "centimetre": "centimeter", "centimetres": "centimeters", "litre": "liter", "litres": "liters",
    "colour": "color", "colours": "colors", "coloured": "colored", "grey": "gray", "centre": "center",
    "centres": "centers", "neighbour": "neighbor", "neighbours": "neighbors", "neighbouring": "neighboring",
    "behaviour": "behavior", "behaviours": "behaviors", "labelled": "labeled", "modelled": "modeled",
    "cancelled": "canceled", "travelled": "traveled", "licence": "license", "aluminium": "aluminum",
    "judgement": "judgment", "favour": "favor", "harbour": "harbor", "honour": "honor", "odour": "odor",
    "vapour": "vapor", "mould": "mold", "fibre": "fiber", "programme": "program", "kerb": "curb",
}  # fmt: skip
_AMERICAN_SAID = {
    **{phrase: phrase for line in _NOT_THE_ALARM.split("\n") for phrase in line.split("|") if phrase},
    **_SET, **_UNSET, **_THINGS, **_SPELLING,
}  # fmt: skip

# Back into the words of the texts: a text of an old file, a device's own word, or one not rewritten yet.
_BRITISH_SAID = {
    "armed away": "set (nobody in)", "armed": "set", "arms": "sets", "arm": "set", "arming": "setting",
    "re-arm": "set again", "disarmed": "unset", "disarm": "unset", "disarms": "unsets", "disarming": "unsetting",
    "bypassed": "left out this time", "panic button": "hold-up button", "panic buttons": "hold-up buttons",
    "panic": "hold-up", "trouble": "fault", "troubles": "faults", "house power": "mains",
    "arm's length": "arm's length",
    **{american: british for british, american in _SPELLING.items() if american not in ("meter", "meters", "program")},
}  # fmt: skip
_AMERICAN_ONLY = """
armed arming disarm disarms disarmed disarming bypass bypassed panic trouble troubles color colors center gray neighbor
neighbors
"""
_BRITISH_ONLY = """
unset unsets unsetting hold-up fault faults mains storey storeys earth earthed metre metres colour colours centre grey
neighbour neighbours behaviour
"""
BRITISH = Words("British", _BRITISH_SAID, frozenset(_AMERICAN_ONLY.split()))
AMERICAN = Words("American", _AMERICAN_SAID, frozenset(_BRITISH_ONLY.split()))
