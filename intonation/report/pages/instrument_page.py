"""The report of one instrument: its players compared, whose each deviation is, what was tried."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from xml.etree.ElementTree import Element

from intonation.diagnosis.results import NoteDiagnosis
from intonation.habits.habit import UsualNote
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import signed
from intonation.report.pages.drawing import Drawing
from intonation.report.pages.markup import element, page, paragraphs, table
from intonation.report.pages.note_plot import compared_plot
from intonation.report.pages.parts import (
    WrittenReport,
    figure,
    means_drawing,
    means_table,
    of_many_sittings,
    remark_part,
    section,
    small_print,
)
from intonation.report.player_table import MOST_COMPARED
from intonation.report.table import Column
from intonation.report.verdict_table import VERDICT_COLUMNS, verdict_cells
from intonation.words import report as words
from intonation.words.diagnosis import MODEL_ESTIMATE, NOT_KNOWABLE
from intonation.words.habits import HOW_WORKED_OUT
from intonation.words.proof import trial_line
from intonation.words.work_cautions import BEFORE_ANY_WORK, IN_DOUBT, LEAVE_ALONE
from intonation.workshop.trial import Trial


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentReport:
    """One instrument.

    Parameters
    ----------
    instrument, described
        Its name, and what it is, in words.
    written_at
        Date of the report.
    players
        By name, where every note usually lies; who played most comes first.
    owners
        By player, whose each note's deviation is, where an instrument check is on file.
    trials
        What was tried.
    remark
        The writer's own words.
    """

    instrument: str
    described: str
    written_at: datetime
    players: Mapping[str, tuple[UsualNote, ...]]
    owners: Mapping[str, tuple[NoteDiagnosis, ...]]
    trials: tuple[Trial, ...] = ()
    remark: str = ""


def instrument_page(report: InstrumentReport) -> WrittenReport:
    """Return the page of an instrument."""
    drawing = _drawing(report)
    html = page(
        words.title_of_instrument(report.instrument),
        f"{report.described}. {words.played_by(list(report.players))}",
        _parts(report, drawing),
        closing=words.written_on(report.written_at),
    )
    return WrittenReport(html, drawing)


def _drawing(report: InstrumentReport) -> Drawing | None:
    title = words.notes_of(report.instrument)
    if len(report.players) == 1:
        notes = of_many_sittings(next(iter(report.players.values())))
        return means_drawing(notes, title=title)
    if not report.players:
        return None
    shown = list(report.players.items())[:MOST_COMPARED]
    series = {name: {n.midi: n.usual.mean for n in notes} for name, notes in shown}
    return compared_plot(series, title=title)


def _parts(report: InstrumentReport, drawing: Drawing | None) -> Iterator[Element]:
    yield from remark_part(report.remark)
    if drawing is None:
        yield element("p", words.NOTHING_YET)
    else:
        yield from _means(report, drawing)
    for player, notes in report.owners.items():
        yield section(words.whose(player), _owner_table(notes))
    if report.trials:
        yield section(words.WHAT_WAS_TRIED, *paragraphs(map(trial_line, report.trials)))
    estimate = (MODEL_ESTIMATE, NOT_KNOWABLE) if report.owners else ()
    cautions = (BEFORE_ANY_WORK, LEAVE_ALONE, IN_DOUBT)
    yield small_print((words.MEASURED, HOW_WORKED_OUT, *estimate, *cautions))


def _means(report: InstrumentReport, drawing: Drawing) -> Iterator[Element]:
    several = len(report.players) > 1
    caption = words.COMPARED if several else words.WINDOW
    yield figure(drawing, "notes", caption=caption)
    if several:
        yield comparison_table(report.players)
        return
    for notes in report.players.values():
        yield means_table(of_many_sittings(notes), caption=words.AS_NUMBERS)


def comparison_table(players: Mapping[str, tuple[UsualNote, ...]]) -> Element:
    """Return where every note usually lies by player, and how far they lie apart."""
    shown = dict(list(players.items())[:MOST_COMPARED])
    by_note = {name: {n.midi: n.usual.mean for n in notes} for name, notes in shown.items()}
    every = sorted({midi for of in by_note.values() for midi in of}, reverse=True)
    columns = (Column(say("note"), numeric=False), *map(Column, shown), Column(say("apart")))
    rows = (_compared_cells(midi, [of.get(midi) for of in by_note.values()]) for midi in every)
    return table(columns, rows, caption=words.MEANS_BY_PLAYER)


def _compared_cells(midi: int, cents: list[float | None]) -> tuple[str, ...]:
    known = [value for value in cents if value is not None]
    apart = f"{max(known) - min(known):.1f}" if len(known) > 1 else "–"
    return (note_name(midi), *(signed(value) for value in cents), apart)


def _owner_table(notes: tuple[NoteDiagnosis, ...]) -> Element:
    return table(VERDICT_COLUMNS, map(verdict_cells, notes), caption=words.FROM_THE_MEAN)
