"""Parts that several reports have in common: the drawing of means, their table, the small print."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from intonation.assessment.summary import NoteSummary
from intonation.diagnosis.parts import Interval
from intonation.habits.habit import UsualNote
from intonation.heldnotes.traced_note import TracedNote
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import deviation, number, signed
from intonation.report.pages.drawing import Drawing
from intonation.report.pages.markup import element, paragraphs, table
from intonation.report.pages.note_plot import PlottedNote, note_plot
from intonation.report.pages.trace_plot import trace_plot
from intonation.report.table import Column
from intonation.report.trace_table import note_cells
from intonation.report.uncertainty import mean_interval
from intonation.words.report import WHAT_FIGURES_ARE

_MEANS = (
    Column(say("note"), numeric=False),
    Column(say("mean, cents")),
    Column(say("90 % interval")),
    Column(say("spread")),
    Column(say("held")),
)
_HELD = (
    Column(say("no."), numeric=False),
    Column(say("note"), numeric=False),
    Column(say("cents")),
    Column(say("begins")),
    Column(say("1st")),
    Column(say("2nd")),
    Column(say("3rd")),
    Column(say("spread")),
    Column(say("dB moved")),
    Column(say("seconds")),
)


@dataclass(frozen=True, slots=True)
class WrittenReport:
    """A report, ready to be written.

    Parameters
    ----------
    html
        The page.
    drawing
        Its main drawing, by itself; None if there is nothing to draw.
    """

    html: str
    drawing: Drawing | None


Mean = tuple[NoteSummary, Interval | None]
"""A note's mean with its interval."""


def of_one_sitting(notes: Iterable[NoteSummary]) -> tuple[Mean, ...]:
    """Return the means of a sitting, as surely as its single notes tell them."""
    return tuple((note, mean_interval(note)) for note in notes)


def of_many_sittings(notes: Iterable[UsualNote]) -> tuple[Mean, ...]:
    """Return where notes usually lie, as the habits have it."""
    return tuple((note.summary, note.usual) for note in notes)


def means_drawing(notes: Iterable[Mean], *, title: str) -> Drawing:
    """Return means on a cents axis, each with its interval."""
    plotted = [
        PlottedNote(midi=note.midi, cents=note.mean_cents, interval=interval)
        for note, interval in notes
    ]
    return note_plot(plotted, title=title)


def means_table(notes: Iterable[Mean], *, caption: str) -> Element:
    """Return means, intervals, spreads and counts, in the order given."""
    return table(_MEANS, map(_mean_cells, notes), caption=caption)


def _mean_cells(mean: Mean) -> tuple[str, ...]:
    note, found = mean
    return (
        note_name(note.midi),
        deviation(note.mean_cents).strip(),
        "–"
        if found is None
        else say("{low} to {high}", low=signed(found.low), high=signed(found.high)),
        number(note.spread_cents) if note.count > 1 else "–",
        str(note.count),
    )


def figure(drawing: Drawing, name: str, *, caption: str = "") -> Element:
    """Return a drawing with its caption; the name is its own on the page."""
    below = [element("figcaption", caption)] if caption else []
    return element("figure", drawing.svg(name), *below)


def traces(held: Sequence[TracedNote]) -> Iterable[Element]:
    """Yield small drawings of held notes, side by side."""
    drawn = [note for note in held if note.trace is not None]
    if drawn:
        figures = [figure(trace_plot(note), f"held-{place}") for place, note in enumerate(drawn)]
        yield element("div", *figures, class_="several")


def held_table(held: Iterable[TracedNote], *, caption: str) -> Element:
    """Return how each held note went, as numbers."""
    cells = (tuple(cell.strip() for cell in note_cells(note)) for note in held)
    return table(_HELD, cells, caption=caption)


def section(heading: str, *parts: Element) -> Element:
    """Return parts under a heading."""
    return element("section", element("h2", heading), *parts)


def small_print(sentences: Iterable[str]) -> Element:
    """Return how the figures came about, and the usual cautions."""
    return section(WHAT_FIGURES_ARE, *paragraphs(sentences, class_="small"))


def remark_part(remark: str) -> list[Element]:
    """Return the writer's own words, line by line."""
    return paragraphs(remark.splitlines())
