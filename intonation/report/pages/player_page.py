"""The report of one player over time: sittings, habits, and the ear."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from xml.etree.ElementTree import Element

from intonation.diagnosis.parts import Interval
from intonation.habits.habit import Habits, NoteHabit
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import number, signed
from intonation.report.pages.day_plot import Sitting, day_plot
from intonation.report.pages.drawing import Drawing
from intonation.report.pages.markup import element, page, paragraphs, table
from intonation.report.pages.note_plot import PlottedNote, note_plot
from intonation.report.pages.parts import WrittenReport, figure, remark_part, section, small_print
from intonation.report.table import Column
from intonation.words import report as words
from intonation.words.habits import HOW_WORKED_OUT, away_in_words, is_said, overall_in_words
from intonation.words.numbers import rounded

_HABITS = (
    Column(say("note"), numeric=False),
    Column(say("usually, cents")),
    Column(say("90 % interval")),
    Column("", numeric=False),
    Column(say("spread")),
    Column(say("in four weeks")),
    Column(say("held")),
)
_SITTINGS = (
    Column(say("day"), numeric=False),
    Column(say("held notes")),
    Column(say("off by, cents")),
    Column(say("mean, cents")),
)
_LATEST = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class OnInstrument:
    """One player on one instrument: every dated sitting, and the habits of the latest weeks."""

    instrument: str
    sittings: tuple[Sitting, ...]
    habits: Habits


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayerReport:
    """One player over time.

    Parameters
    ----------
    player
        Who.
    written_at
        Date of the report.
    instruments
        What was played, the most played first.
    ear
        What the listening drills have found, in sentences.
    remark
        The writer's own words.
    """

    player: str
    written_at: datetime
    instruments: tuple[OnInstrument, ...]
    ear: tuple[str, ...] = ()
    remark: str = ""


def player_page(report: PlayerReport) -> WrittenReport:
    """Return the page of a player."""
    drawings = [_over_time(of) for of in report.instruments]
    html = page(
        words.title_of_player(report.player),
        _facts(report),
        _parts(report, drawings),
        closing=words.written_on(report.written_at),
    )
    return WrittenReport(html, next(iter(drawings), None))


def _facts(report: PlayerReport) -> str:
    held = sum(s.held_notes for of in report.instruments for s in of.sittings)
    sittings = sum(len(of.sittings) for of in report.instruments)
    instruments = ", ".join(of.instrument for of in report.instruments)
    return " · ".join(filter(None, (instruments, words.played(held, sittings))))


def _parts(report: PlayerReport, drawings: list[Drawing]) -> Iterator[Element]:
    yield from remark_part(report.remark)
    if not report.instruments:
        yield element("p", words.NOTHING_YET)
    for place, (of, drawing) in enumerate(zip(report.instruments, drawings, strict=True)):
        yield from _instrument(of, drawing, place, today=report.written_at.date())
    if report.ear:
        yield section(words.THE_EAR, *paragraphs(report.ear))
    yield small_print((words.MEASURED, words.OFF_TARGET, HOW_WORKED_OUT))


def _over_time(of: OnInstrument) -> Drawing:
    return day_plot(of.sittings, title=words.off_target_on(of.instrument))


def _instrument(
    of: OnInstrument, drawing: Drawing, place: int, *, today: date
) -> Iterator[Element]:
    told = (*away_in_words(of.habits, today=today), *overall_in_words(of.habits))
    sentences = paragraphs(told) if of.habits.count else []
    habits = habit_parts(of.habits, f"habits-{place}") if of.habits.spoken else ()
    yield section(
        words.on_instrument(of.instrument),
        *sentences,
        figure(drawing, f"days-{place}", caption=words.OFF_TARGET),
        *habits,
        _sitting_table(of),
    )


def habit_parts(habits: Habits, name: str) -> Iterator[Element]:
    """Yield where every note usually lies, drawn and as numbers."""
    plotted = [
        PlottedNote(midi=note.midi, cents=note.usual.mean, interval=note.usual)
        for note in habits.spoken
        if note.usual is not None
    ]
    drawing = note_plot(plotted, title=words.USUALLY_LIES)
    yield figure(drawing, name, caption=words.WINDOW)
    yield table(_HABITS, map(_habit_cells, habits.spoken), caption=words.AS_NUMBERS)


def _habit_cells(note: NoteHabit) -> tuple[str, ...]:
    return (
        note_name(note.midi),
        "–" if note.usual is None else signed(note.usual.mean),
        _from_to(note.usual),
        is_said(note),
        number(note.spread_cents),
        "–" if note.trend is None else f"{signed(note.trend.mean)} ({_from_to(note.trend)})",
        str(note.count),
    )


def _from_to(found: Interval | None) -> str:
    return (
        "–"
        if found is None
        else say("{low} to {high}", low=signed(found.low), high=signed(found.high))
    )


def _sitting_table(of: OnInstrument) -> Element:
    latest = sorted(of.sittings, key=lambda s: s.day)[-_LATEST:]
    rows = (
        (s.day.isoformat(), str(s.held_notes), rounded(s.off_cents, 1), signed(s.mean_cents))
        for s in reversed(latest)
    )
    return table(_SITTINGS, rows, caption=words.latest_sittings(len(latest)))
