"""The colours of the record and of the forms are our own few, and each pair that is read has contrast enough.

Ratios as WCAG 2.2 defines them (w3.org/TR/WCAG22, "relative luminance", "contrast ratio"); AA asks 4.5 for text
(success criterion 1.4.3) and 3 for the edge of a control (1.4.11).
"""

import re
from pathlib import Path

import pytest

LIBRARY = Path(__file__).parents[1] / "alarmlib"
TEMPLATE = LIBRARY / "record" / "template"
LOOK = (TEMPLATE / "look.css").read_text(encoding="utf-8")
SHEETS = {
    each.name: each.read_text(encoding="utf-8")
    for each in (
        TEMPLATE / "record.css",
        *(
            LIBRARY / "widgets" / name
            for name in ("form.css", "plan.css", "survey_sheet.css", "tasks.css", "fold.css", "questions.css")
        ),
        LIBRARY / "lab" / "extension" / "static" / "bar.css",
    )
}
TEXT, EDGE = 4.5, 3.0
Colours = dict[str, str]


def _parts(colour: str) -> tuple[float, ...]:
    digits = colour.removeprefix("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    return tuple(int(digits[n : n + 2], 16) / 255 for n in (0, 2, 4))


def _luminance(colour: str) -> float:
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in _parts(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """The ratio of two colours, 1 to 21."""
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _named(css: str) -> Colours:
    """The colours that a block of declarations names."""
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{3,6});", css))


def _shown() -> dict[str, Colours]:
    """Every colour by its name, where the look is light, dark, and on paper."""
    light, dark, dark_notebook, printed = (_named(block) for block in re.findall(r"\{([^{}]*--page[^{}]*)\}", LOOK))
    assert dark == dark_notebook
    assert set(light) == set(dark) == set(printed)
    return {"light": light, "dark": dark, "print": printed}


@pytest.mark.outside
def test_contrast__published_ratios() -> None:
    """Black on white is 21 (the definition); #767676 is the lightest grey that passes AA on white (4.54)."""
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") < TEXT


@pytest.mark.parametrize("where", ["light", "dark", "print"])
def test_look__each_pair_can_be_distinguished(where: str) -> None:
    colours = _shown()[where]
    for ink in ("ink", "quiet", "accent", "wrong", "careful"):
        for behind in ("page", "wash"):
            assert contrast(colours[ink], colours[behind]) >= TEXT, (ink, behind)
    for edge in ("line", "frame", "accent", "wrong"):
        assert contrast(colours[edge], colours["page"]) >= EDGE, edge


@pytest.mark.parametrize("sheet", list(SHEETS))
def test_sheets__no_colour_but_the_named_ones(sheet: str) -> None:
    """Every pair is one of those above: text and grounds are painted with names, never with a colour of their own."""
    rules = SHEETS[sheet]
    assert not re.search(r"#[0-9a-f]{3,6}\b|rgba?\(|hsl|color-mix", rules)
    painted = set(re.findall(r"[\s;{](?:color|fill): var\(--(\w+)\)", rules))
    assert painted <= {"ink", "page", "quiet", "accent", "wrong", "careful"}
    assert set(re.findall(r"background: var\(--(\w+)\)", rules)) <= {"page", "wash", "accent"}


def test_look__every_name_that_a_sheet_uses() -> None:
    named = set(re.findall(r"--([\w-]+):", LOOK))
    for sheet, rules in SHEETS.items():
        own = set(re.findall(r"--([\w-]+):", rules))
        assert set(re.findall(r"var\(--([\w-]+)", rules)) <= named | own, sheet
