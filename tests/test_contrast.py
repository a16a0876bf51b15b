"""The colours of the record and of the forms are our own few, and each pair that is read has contrast enough.

Ratios as WCAG 2.2 defines them (w3.org/TR/WCAG22, "relative luminance", "contrast ratio"); AA asks 4.5 for text
(success criterion 1.4.3) and 3 for the edge of a control (1.4.11).
"""

import re
from pathlib import Path

import pytest

LIBRARY = Path(__file__).parents[1] / "alarmlib"
RECORD = (LIBRARY / "record" / "template" / "record.css").read_text(encoding="utf-8")
FORM = (LIBRARY / "widgets" / "form.css").read_text(encoding="utf-8")
PLAN = (LIBRARY / "widgets" / "plan.css").read_text(encoding="utf-8")
TEXT, EDGE = 4.5, 3.0
Colours = dict[str, str]
# What JupyterLab's own two themes put behind and into a form.
LIGHT_PAGE, DARK_PAGE = {"page": "#ffffff", "ink": "#212121"}, {"page": "#212121", "ink": "#ffffff"}


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


def _mixed(colours: Colours, one: str, percent: float, other: str) -> str:
    pairs = zip(_parts(colours[one]), _parts(colours[other]), strict=True)
    return "#" + "".join(f"{round(255 * (percent * a + (100 - percent) * b) / 100):02x}" for a, b in pairs)


def _named(css: str) -> Colours:
    """The colours that a block of declarations names."""
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{3,6});", css))


def _record() -> dict[str, Colours]:
    light, dark, printed = (_named(block) for block in re.findall(r":root \{(.*?)\}", RECORD, re.DOTALL))
    return {"light": light, "dark": light | dark, "print": light | printed}


def _form() -> dict[str, Colours]:
    blocks = [_named(block) for block in re.findall(r"\.alarm-form \{(.*?)\}", FORM, re.DOTALL)]
    light, dark, _ = [block for block in blocks if block]
    own = dict(re.findall(r"--(ink|page): var\([\w-]+, (#[0-9a-f]+)\)", FORM.split("prefers-color-scheme")[1]))
    shown = {"light": LIGHT_PAGE | light, "dark": DARK_PAGE | light | dark, "dark outside": light | dark | own}
    for colours in shown.values():
        for name, one, percent, other in re.findall(
            r"--(\w+): color-mix\(in srgb, var\(--(\w+)\) (\d+)%, var\(--(\w+)\)\);", FORM
        ):
            colours[name] = _mixed(colours, one, float(percent), other)
    return shown


@pytest.mark.outside
def test_contrast__published_ratios() -> None:
    """Black on white is 21 (the definition); #767676 is the lightest grey that passes AA on white (4.54)."""
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") < TEXT


@pytest.mark.parametrize("where", ["light", "dark", "print"])
def test_record__each_pair_can_be_distinguished(where: str) -> None:
    colours = _record()[where]
    for ink in ("text", "quiet", "link", "must"):
        for behind in ("paper", "shade"):
            assert contrast(colours[ink], colours[behind]) >= TEXT, (ink, behind)
    for edge in ("frame", "must", "quiet"):
        assert contrast(colours[edge], colours["paper"]) >= EDGE, edge


def test_record__no_colour_but_the_named_ones() -> None:
    """Every pair is one of those above: text and grounds are painted with names, never with a colour of their own."""
    rules = re.sub(r":root \{.*?\}", "", RECORD, flags=re.DOTALL)
    assert not re.search(r"#[0-9a-f]{3,6}\b|rgba?\(|hsl", rules)
    assert set(re.findall(r"[^-]color: var\(--(\w+)\)", rules)) <= {"text", "quiet", "link", "must"}
    assert set(re.findall(r"background: var\(--(\w+)\)", rules)) == {"paper", "shade"}
    borders = set(re.findall(r"(?:border|outline)[\w-]*: [^;]*var\(--(\w+)\)", rules))
    assert borders == {"text", "quiet", "frame", "must", "link", "rule"}  # `rule` only lines up what space parts anyway


@pytest.mark.parametrize("where", ["light", "dark", "dark outside"])
def test_form__each_pair_can_be_distinguished(where: str) -> None:
    colours = _form()[where]
    for ink in ("ink", "quiet", "accent", "wrong", "careful"):
        for behind in ("page", "wash"):
            assert contrast(colours[ink], colours[behind]) >= TEXT, (ink, behind)
    for edge in ("line", "accent", "wrong"):
        assert contrast(colours[edge], colours["page"]) >= EDGE, edge


def test_form__no_colour_but_the_named_ones() -> None:
    for css in (FORM, PLAN):
        rules = re.sub(r"--\w+: [^;]*;", "", css)
        assert set(re.findall(r"#[0-9a-f]{3,6}\b", rules)) <= {"#000"}  # edges in print
        painted = set(re.findall(r"(?:color|background|fill|stroke): var\(--(\w+)\)", rules))
        assert painted <= {"ink", "page", "quiet", "wash", "accent", "wrong", "careful", "line"}
