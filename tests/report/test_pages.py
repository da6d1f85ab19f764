"""Printed reports: valid, readable, complete in one file, and safe with whatever was typed."""

import contextlib
import io
import re
import zlib
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from xml.etree import ElementTree

import html5lib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from scipy import stats

from intonation.assessment.summary import NoteSummary
from intonation.engine.players import PlayersDesk
from intonation.engine.reporting import Reporting
from intonation.habits.finding import usual_notes
from intonation.habits.played import played_from
from intonation.report.pages import paper
from intonation.report.pages.day_plot import Sitting, day_plot, running_mean
from intonation.report.pages.drawing import SVG_NAMESPACE, Drawing
from intonation.report.pages.files import write_drawing, write_report
from intonation.report.pages.instrument_page import instrument_page
from intonation.report.pages.lesson_page import changes, lesson_page
from intonation.report.pages.markup import element, page, printable
from intonation.report.pages.note_plot import PlottedNote, compared_plot, note_plot
from intonation.report.pages.parts import WrittenReport
from intonation.report.pages.player_page import player_page
from intonation.report.pages.session_page import session_page
from intonation.report.pages.trace_plot import trace_plot
from intonation.report.uncertainty import mean_interval
from intonation.store.store import Store
from tests.report.test_trace_chart import a_note
from tests.support.filled_record import ALTO, FIRST_DAY, fill
from tests.support.habitual_player import Practice, TrueHabits, record_of

NOW = datetime(2031, 3, 20, 9, 0, tzinfo=UTC)
KINDS = ("session", "player", "instrument", "lesson")
HOSTILE = '</style><script>alert(\'x\')</script>" onload="x" <b>&amp;\x00\x1b\ud800\ufffe]]>'


@pytest.fixture(scope="module")
def reporting() -> Iterator[Reporting]:
    with Store(None) as store:
        fill(store)
        yield Reporting(store, lambda: NOW)


def written(reporting: Reporting, kind: str, *, remark: str = "") -> WrittenReport:
    makers: dict[str, Callable[[], WrittenReport]] = {
        "session": lambda: session_page(reporting.session("wren", "alto", remark=remark)),
        "player": lambda: player_page(reporting.player("wren", remark=remark)),
        "instrument": lambda: instrument_page(reporting.instrument("alto", remark=remark)),
        "lesson": lambda: lesson_page(reporting.lesson("wren", "alto", remark=remark)),
    }
    return makers[kind]()


def checked(html: str) -> ElementTree.Element:
    """Return the tree of a page, which must be HTML without a single parse error."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)


def drawings(tree: ElementTree.Element) -> list[ElementTree.Element]:
    return [node for node in tree.iter() if str(node.tag).rpartition("}")[2] == "svg"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_page_is_valid_html(reporting: Reporting, kind: str) -> None:
    """By the parser of the HTML standard (html5lib), which forgives nothing when strict."""
    tree = checked(written(reporting, kind).html)
    assert tree.get("lang") == "en"
    names = [node.get("id") for node in tree.iter() if node.get("id")]
    assert len(names) == len({*names})


@pytest.mark.parametrize("kind", KINDS)
def test_every_drawing_can_be_heard_by_those_who_do_not_see_it(
    reporting: Reporting, kind: str
) -> None:
    tree = checked(written(reporting, kind).html)
    found = drawings(tree)
    assert found
    by_id = {node.get("id"): node for node in tree.iter() if node.get("id")}
    for drawing in found:
        assert drawing.get("role") == "img"
        told = [by_id[name].text or "" for name in drawing.get("aria-labelledby", "").split()]
        assert len(told) == 2
        assert all(len(text) > 10 for text in told)


@pytest.mark.parametrize("kind", KINDS)
def test_no_page_asks_for_anything_from_the_network(reporting: Reporting, kind: str) -> None:
    html = written(reporting, kind, remark="https://example.org/").html
    tree = checked(html)
    loading = {"src", "href", "srcset", "data", "action", "poster"}
    for node in tree.iter():
        assert node.tag not in ("script", "link", "img", "iframe", "object", "base")
        assert not loading & {str(name).rpartition("}")[2] for name in node.attrib}
    assert "url(" not in html
    assert "@import" not in html


@given(text=st.text(max_size=60) | st.just(HOSTILE))
@settings(max_examples=40, deadline=None)
def test_whatever_was_typed_stands_there_as_text(text: str) -> None:
    """Checked with the standard's parser: what went in as text comes out as the same text."""
    drawing = note_plot([PlottedNote(midi=69, cents=3.0)], title=text)
    html = page(text, text, [element("p", text), drawing.svg()], closing=text)
    tree = checked(html)
    shown = printable(text)
    (heading,) = tree.iter("h1")
    assert (heading.text or "") == shown
    assert not list(tree.iter("script"))
    assert [node.tag for node in tree.iter("b")] == []
    assert len(drawings(tree)) == 1


@pytest.mark.parametrize("kind", KINDS)
def test_hostile_names_and_remarks_do_no_harm(kind: str) -> None:
    with Store(None) as store:
        fill(store, sittings=2)
        with store.database.writing() as connection:
            name = HOSTILE.encode("utf-8", "replace").decode()
            connection.execute("UPDATE players SET name = ? WHERE name = 'wren'", (name,))
            connection.execute("UPDATE instruments SET name = ? WHERE name = 'alto'", (name,))
        asked = Reporting(store, lambda: NOW)
        makers: dict[str, Callable[[], WrittenReport]] = {
            "session": lambda: session_page(asked.session(name, name, remark=HOSTILE)),
            "player": lambda: player_page(asked.player(name, remark=HOSTILE)),
            "instrument": lambda: instrument_page(asked.instrument(name, remark=HOSTILE)),
            "lesson": lambda: lesson_page(asked.lesson(name, name, remark=HOSTILE)),
        }
        tree = checked(makers[kind]().html)
    assert not list(tree.iter("script"))
    assert not [name for node in tree.iter() for name in node.attrib if str(name).startswith("on")]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours (WCAG 2.2, relative luminance and contrast)."""

    def luminance(colour: str) -> float:
        parts = (int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5))
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_computed_as_the_standard_does() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    # WebAIM and others quote #767676 as the lightest grey for text on white
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def test_every_ink_can_be_read_on_every_paper() -> None:
    """WCAG 2.2: 1.4.3 asks 4.5 for text, 1.4.11 asks 3 for what a drawing is read by."""
    for beneath in (paper.PAPER, paper.WINDOW):
        for ink in (paper.INK, paper.SOFT, paper.SHARP, paper.FLAT):
            assert contrast(ink, beneath) >= 4.5
        assert contrast(paper.RULE, beneath) >= 3.0


def test_every_colour_in_a_drawing_is_one_of_those_inks(reporting: Reporting) -> None:
    html = "".join(written(reporting, kind).html for kind in KINDS)
    known = {paper.INK, paper.SOFT, paper.SHARP, paper.FLAT, paper.RULE}
    assert {*re.findall(r"#[0-9a-f]{6}", html)} <= known | {
        paper.PAPER,
        paper.WINDOW,
        paper.FAINT,
    }


def opened(pdf: bytes) -> bytes:
    """Return a PDF with its compressed streams opened (ISO 32000: FlateDecode is zlib)."""
    streams = re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL)
    plain = []
    for stream in streams:
        with contextlib.suppress(zlib.error):
            plain.append(zlib.decompress(stream))
    return b"\n".join([pdf, *plain])


def test_a_page_prints_on_a4_with_its_text(reporting: Reporting, tmp_path) -> None:
    path = tmp_path / "report.pdf"
    write_report(written(reporting, "lesson"), path)
    content = path.read_bytes()
    assert content.startswith(b"%PDF-")
    boxes = re.findall(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", opened(content))
    assert boxes
    for wide, high in boxes:
        # ISO 216: A4 is 210 by 297 millimetres
        assert float(wide) == pytest.approx(210 / 25.4 * 72, abs=1.0)
        assert float(high) == pytest.approx(297 / 25.4 * 72, abs=1.0)


def test_a_drawing_is_written_as_svg_and_as_png(reporting: Reporting, tmp_path) -> None:
    report = written(reporting, "instrument")
    write_drawing(report, tmp_path / "notes.svg")
    root = ElementTree.parse(tmp_path / "notes.svg").getroot()
    assert root.tag == f"{{{SVG_NAMESPACE}}}svg"
    write_drawing(report, tmp_path / "notes.png")
    picture = Image.open(io.BytesIO((tmp_path / "notes.png").read_bytes()))
    assert picture.width >= 1200
    assert len(picture.convert("L").getcolors(1 << 16) or []) > 20
    assert sorted(path.name for path in tmp_path.iterdir()) == ["notes.png", "notes.svg"]


@pytest.mark.parametrize(("kind", "told"), [("session", "Every note"), ("lesson", "since")])
def test_the_numbers_on_the_page_are_those_of_the_record(
    reporting: Reporting, kind: str, told: str
) -> None:
    html = written(reporting, kind).html
    assert told in html
    report = reporting.session("wren", "alto")
    rows = list(reporting.store.held_notes(player="wren", instrument="alto"))
    latest = [r.cents for r in rows if r.session == rows[-1].session and r.midi == ALTO[0]]
    (note,) = [n for n in report.notes if n.midi == ALTO[0]]
    assert note.mean_cents == pytest.approx(np.mean(latest))
    assert note.spread_cents == pytest.approx(np.std(latest, ddof=1))
    if kind == "session":
        assert f"{note.mean_cents:+.1f}".replace("-", "−") in html


@given(cents=st.lists(st.floats(-50.0, 50.0), min_size=2, max_size=60))
@settings(max_examples=40, deadline=None)
def test_the_interval_of_a_mean_is_students(cents: list[float]) -> None:
    """Against scipy.stats.t, a general statistics library."""
    note = NoteSummary(69, float(np.mean(cents)), float(np.std(cents, ddof=1)), len(cents))
    found = mean_interval(note)
    assert found is not None
    half = stats.t.ppf(0.95, len(cents) - 1) * stats.sem(cents)
    assert found.high - found.mean == pytest.approx(half, rel=2e-3, abs=1e-9)
    assert mean_interval(replace(note, count=1)) is None


def test_reports_and_habits_say_the_same_of_every_note(reporting: Reporting) -> None:
    spoken = {n.midi: n for n in reporting.player("wren").instruments[0].habits.spoken}
    assert len(spoken) == len(ALTO)
    printed = reporting.instrument("alto").players["wren"]
    assert {n.midi: (n.usual, n.spread_cents, n.count) for n in printed} == {
        n.midi: (n.usual, n.spread_cents, n.count) for n in spoken.values()
    }
    compared = PlayersDesk(reporting.store, lambda: NOW).compared("alto")["wren"]
    assert {n.midi: n.mean_cents for n in compared} == {
        n.midi: n.usual.mean for n in spoken.values() if n.usual
    }
    lesson = reporting.lesson("wren", "alto", since=FIRST_DAY - timedelta(days=1))
    assert lesson.after == printed


def test_a_note_that_is_too_rare_for_a_habit_is_in_the_report_with_its_doubt() -> None:
    with Store(None) as store:
        fill(store, sittings=2)
        reporting = Reporting(store, lambda: NOW)
        assert reporting.player("wren").instruments[0].habits.spoken == ()
        for note in reporting.instrument("alto").players["wren"]:
            assert note.count == 4
            assert 1.0 < note.usual.high - note.usual.mean < 15.0


def test_where_nothing_has_changed_but_the_days_differ_hardly_a_change_is_called_clear() -> None:
    """The truth is the outside of a simulation: no note changes, sittings differ by 3.5 cents."""
    called, told = 0, 0
    with Store(None) as store:
        fill(store)
        report = Reporting(store, lambda: NOW).lesson("wren", "alto")
    for seed in range(30):
        rng = np.random.default_rng(seed)
        weeks = record_of(TrueHabits(), rng, Practice(sittings=20, days=70, notes=60))
        last = sorted({note.sitting for note in weeks})[-3:]
        found = changes(
            replace(
                report,
                before=usual_notes(played_from([n for n in weeks if n.sitting not in last])),
                after=usual_notes(played_from([n for n in weeks if n.sitting in last])),
            )
        )
        called += sum(one.clear for one in found)
        told += sum(one.change_cents is not None for one in found)
    assert told > 500
    assert called / told < 0.10


def test_the_line_over_the_days_is_a_moving_mean() -> None:
    """Against numpy.convolve once five sittings are there."""
    values = [float(v) for v in np.random.default_rng(2).normal(8.0, 3.0, 30)]
    ours = running_mean(values)
    assert ours[4:] == pytest.approx(np.convolve(values, np.full(5, 0.2), "valid").tolist())
    assert ours[0] == values[0]


ODD_DRAWINGS: list[Drawing] = [
    note_plot([], title="nothing"),
    compared_plot({}, title="nothing"),
    compared_plot({"a": {}, "b": {60: 400.0}}, title="far off"),
    day_plot([], title="no day"),
    day_plot(
        [Sitting(day=NOW.date(), held_notes=1, off_cents=900.0, mean_cents=-900.0)], title="one"
    ),
    trace_plot(a_note([])),
    trace_plot(replace(a_note([None] * 40), trace=None)),
    trace_plot(a_note([None, 900.0, None, -900.0] * 20)),
]


@pytest.mark.parametrize("drawing", ODD_DRAWINGS, ids=lambda drawing: drawing.title[:20])
def test_odd_figures_are_drawn_without_leaving_the_paper(drawing: Drawing) -> None:
    root = ElementTree.fromstring(drawing.file_text())
    for node in root.iter():
        for name in ("x", "x1", "x2", "cx"):
            if name in node.attrib:
                assert -1.0 <= float(node.attrib[name]) <= drawing.width + 1.0


def test_several_players_are_told_apart_by_shape_and_not_by_colour() -> None:
    series = {f"player {n}": {69: float(n)} for n in range(6)}
    root = ElementTree.fromstring(compared_plot(series, title="six").file_text())
    marks = [n for n in root.iter() if n.tag.endswith(("circle", "polygon"))]
    shapes = {(_about_centre(node.get("points", "")), node.get("fill")) for node in marks}
    assert len(shapes) == 5
    inks = {node.get("stroke") for node in root.iter() if node.tag.endswith(("circle", "polygon"))}
    assert inks == {paper.INK}


def _about_centre(points: str) -> tuple[tuple[float, float], ...]:
    corners = [tuple(map(float, point.split(","))) for point in points.split()]
    if not corners:
        return ()
    x, y = (sum(each) / len(corners) for each in zip(*corners, strict=True))
    return tuple((round(a - x), round(b - y)) for a, b in corners)
