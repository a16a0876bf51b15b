"""Whatever a person types is shown as text."""

from dataclasses import replace
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from alarmlib.checks.finding import Finding, Verdict
from alarmlib.checks.ranking import ranked
from alarmlib.record.blocks import (
    Bullets,
    Causes,
    Findings,
    Lines,
    Picture,
    Table,
    Text,
    ToldStep,
    ToldSteps,
    apart,
    named,
)
from alarmlib.record.markup import FEW_NOTES, block_html, cited, plain
from alarmlib.record.picture import Badge, Circle, Drawing, Fill, Ink, Label, Line, Polygon, Rect, svg


class Reader(HTMLParser):
    """Collects the tags and the text of a piece of HTML."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


@pytest.mark.parametrize(
    "typed", ['<script>document.title="PWN"</script>Hall', "A & B &amp; <b>C</b>", "\"quoted\" 'too'"]
)
def test_markup_in_a_name_is_shown_as_text(typed: str) -> None:
    """No tag of the name becomes a tag of the record, and every character of it can be read."""
    reader = Reader(block_html(Table("Rooms", ("Room", "Area"), ((named(typed), typed),)), "t"))
    assert set(reader.tags) <= {"div", "table", "caption", "thead", "tr", "th", "tbody", "td", "bdi", "wbr"}
    assert reader.text.count(typed) == 2


@given(st.text(max_size=200))
def test_any_text_comes_back_as_text(typed: str) -> None:
    """Reading the HTML gives the text back, but for control characters and the marks of writing direction."""
    reader = Reader(block_html(Text((named(typed),)), "t"))
    assert set(reader.tags) <= {"p", "bdi", "wbr"}
    marks = "\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
    kept = "".join(c for c in typed if c not in marks)
    shown = "".join(c if c.isprintable() or c in "\t\n" or ord(c) > 0x9F else "\ufffd" for c in kept)
    assert reader.text.replace("\ufffd", "") == "".join(
        c for c in shown if c != "\ufffd" and not 0xD800 <= ord(c) < 0xE000
    )


def test_a_name_of_10000_characters_is_whole_and_can_be_broken() -> None:
    """Nothing is cut, and there is a place to break a line at least every 20 characters."""
    html = block_html(Bullets((named("ü" * 10_000),)), "t")
    assert Reader(html).text == "ü" * 10_000
    assert max(map(len, html.split("<wbr>"))) < 60


def test_entities_stay_whole_where_a_long_run_is_broken() -> None:
    """A run of ampersands is broken between them, never inside an escaped one."""
    assert Reader(plain("&" * 100)).text == "&" * 100


def test_right_to_left_names_are_kept_apart() -> None:
    """A right-to-left name, and one that carries direction marks of its own, stays inside its own `bdi`."""
    assert plain(f"Room {named('غرفة')} is cold") == "Room <bdi>غرفة</bdi> is cold"
    assert plain(named("a\u202eb\u2069c")) == "abc"
    assert plain(apart("“غرفة” is cold")) == "“<bdi>غرفة</bdi>” is cold"


def test_lone_isolates_open_no_element() -> None:
    """A mark that nobody closed never leaves an element open."""
    assert plain("a \u2068 b") == "a  b"
    assert plain("a \u2069 b \u2068 c") == "a  b  c"


def test_each_weight_has_a_word_and_a_sign() -> None:
    """Weights are told by words and signs, never by colour alone."""
    html = block_html(
        Findings(tuple(Finding("i", "s", verdict, "Message", source="owner") for verdict in Verdict)), "t"
    )
    for sign, word in (("✖", "must"), ("▲", "should"), ("●", "note"), ("✔", "ok")):
        assert f"{sign} {word}" in html


def test_a_cause_is_one_line_and_its_findings_unfold() -> None:
    """Each finding is told once; of a folded one its remedy and source only where they differ from the line's."""
    told = [Finding("i.x", str(n), Verdict.SHOULD, f"Message {n}.", "Mend it.", "owner") for n in range(3)]
    told[2] = replace(told[2], remedy="Move it.")
    html = block_html(Causes(ranked(told)), "t")
    assert [html.count(each.message) for each in told] == [1, 1, 1]
    assert (html.count("Mend it."), html.count("Move it."), html.count('class="source"')) == (1, 1, 1)
    line, folded = html.split("<details><summary>2 more like it</summary>")
    assert "Message 0." in line
    assert "Message 2." in folded
    assert 'class="findings"' in line


def test_what_is_in_order_is_one_line_that_unfolds() -> None:
    """Forty lines of what is fine came between those of what is not."""
    fine = tuple(Finding("i", str(n), Verdict.OK, f"Fine {n}.", source="owner") for n in range(40))
    html = block_html(Findings(fine), "t")
    assert html.startswith("<details><summary>")
    assert "In order (40)" in html


def test_more_than_a_few_notes_are_one_line_that_unfolds() -> None:
    """Three notes are read at once; four and more are behind their count."""
    notes = tuple(Finding("x.y", str(n), Verdict.NOTE, f"Note {n}.") for n in range(FEW_NOTES + 1))
    assert "<details>" not in block_html(Findings(notes[1:]), "x")
    assert block_html(Findings(notes), "x").startswith("<details><summary><h3>")


def test_a_step_leads_to_its_field_on_a_page_and_names_the_page_on_paper() -> None:
    """What the owner typed is text in the link too."""
    step = ToldStep(Finding("x.y", "a", Verdict.SHOULD, "Wrong."), "It gains “<b>”.", "02_detectors", 'devices/"x"')
    linked, paper = (block_html(ToldSteps((step,), linked), "x") for linked in (True, False))
    assert '<a href="02_detectors.ipynb" data-field="devices/&quot;x&quot;">Go to page 02</a>' in linked
    assert "It is entered on page 02 of the workbook." in paper
    assert "<a " not in paper
    assert "<b>" not in linked + paper


def test_a_table_has_caption_scopes_and_a_named_region() -> None:
    """What a screen reader needs of a table."""
    html = block_html(Table("Rooms", ("Room", "Area"), (("Hall", "3"),), frozenset({1})), "k")
    assert '<caption id="k-caption">Rooms</caption>' in html
    assert '<th scope="col">Room</th><th scope="col" class="n">Area</th>' in html
    assert '<th scope="row">Hall</th><td class="n">3</td>' in html
    assert 'role="region" tabindex="0" aria-labelledby="k-caption"' in html


def test_lines_are_empty_rows() -> None:
    """A table to be filled in by hand has as many empty rows as it says."""
    assert block_html(Lines("Contacts", ("Name", "Number"), 4), "k").count("<tr><td></td><td></td></tr>") == 4


def test_a_torn_table_is_refused() -> None:
    """A row with too few cells is a mistake of ours, and is told at once."""
    with pytest.raises(ValueError, match="has not 2 cells"):
        Table("Rooms", ("Room", "Area"), (("Hall",),))


def test_what_has_no_source_says_so_once() -> None:
    """The citation of common practice does not repeat itself."""
    assert cited("practice") == "Common practice, no source"


EVERY_SHAPE = Drawing(
    100,
    50,
    (
        Line((0, 0), (10.04, 10.06), Ink.DASHED),
        Rect((1, 1), 5, 5, Ink.WALL, Fill.SLANTED),
        Circle((20, 20), 4, Ink.NONE, Fill.DOTTED),
        Polygon(((0, 0), (1, 0), (1, 1)), Ink.FINE, Fill.CROSSED),
        Polygon(((0, 0), (1, 0), (1, 1)), Ink.FINE, Fill.SOLID),
        Label((5, 5), "<i>Hall</i>"),
        Badge((9, 9), "M12"),
        Badge((9, 9), "1", square=True),
    ),
)


def test_a_drawing_names_itself_and_keeps_one_decimal() -> None:
    """Title, description, role; fixed decimals; letters escaped; no id without the drawing's key."""
    drawn = svg(EVERY_SHAPE, "k", "Plan <b>", "A hall & more")
    assert '<title id="k-title">Plan &lt;b&gt;</title><desc id="k-desc">A hall &amp; more</desc>' in drawn
    assert 'role="img" aria-labelledby="k-title k-desc"' in drawn
    assert '<path d="M0 0L10 10.1">' in drawn
    assert "<i>" not in drawn
    assert "http" not in drawn
    assert drawn.count(' id="') == drawn.count(' id="k-')


def test_a_drawing_alone_is_a_document() -> None:
    """For a notebook's output the drawing carries its namespace and is well-formed XML."""
    from xml.etree import ElementTree

    root = ElementTree.fromstring(svg(EVERY_SHAPE, "k", "Plan", "A hall", alone=True))
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert len(root.findall(".//{http://www.w3.org/2000/svg}pattern")) == 3


def test_a_picture_brings_its_table() -> None:
    """Whoever cannot see the drawing reads the same in the table beside it."""
    picture = Picture("Plan", "A hall", EVERY_SHAPE, Table("What is on it", ("Mark", "What"), (("1", "Hall"),)))
    html = block_html(picture, "k")
    assert html.index("</svg>") < html.index("<table")
    assert 'id="k-table-caption"' in html
