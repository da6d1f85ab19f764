"""The report for a lesson: what was practised since the last one, what changed, what needs most."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from math import hypot
from xml.etree.ElementTree import Element

from intonation.habits.among_many import beyond_chance
from intonation.habits.habit import Habits, UsualNote
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import signed
from intonation.report.pages.drawing import Drawing
from intonation.report.pages.markup import element, page, paragraphs, table
from intonation.report.pages.note_plot import compared_plot
from intonation.report.pages.parts import WrittenReport, figure, remark_part, section, small_print
from intonation.report.table import Column
from intonation.words import report as words
from intonation.words.cautions import LONG_TONES, LOUDNESS, POSTURE
from intonation.words.habits import HOW_WORKED_OUT, overall_in_words

_CHANGES = (
    Column(say("note"), numeric=False),
    Column(say("before")),
    Column(say("since")),
    Column(say("change, 90 %")),
    Column("", numeric=False),
    Column(say("held since")),
)
_MOST_IN_NEED, _LINES = 3, 6


@dataclass(frozen=True, slots=True, kw_only=True)
class LessonReport:
    """A pupil on one instrument, since the last lesson.

    Parameters
    ----------
    player, instrument
        Who plays what.
    since
        Day of the last lesson.
    written_at
        Date of the report.
    sittings, minutes
        How often and how long was practised since.
    before, after
        Where every note usually lay in the weeks before the last lesson, and since.
    habits
        Of the latest weeks.
    ear
        What the listening drills have found, in sentences.
    remark
        The teacher's own words.
    """

    player: str
    instrument: str
    since: date
    written_at: datetime
    sittings: int
    minutes: float
    before: tuple[UsualNote, ...]
    after: tuple[UsualNote, ...]
    habits: Habits
    ear: tuple[str, ...] = ()
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What became of a note: its means before and since, and the change with half its interval.

    It is clear where the change stands out among those of all notes.
    """

    midi: int
    before_cents: float | None
    after_cents: float | None
    change_cents: float | None = None
    half_cents: float | None = None
    held_since: int = 0
    clear: bool = False

    @property
    def closer(self) -> bool:
        """Whether the note is closer to its target than before."""
        return abs(self.after_cents or 0.0) < abs(self.before_cents or 0.0)


def lesson_page(report: LessonReport) -> WrittenReport:
    """Return the page for a lesson."""
    drawing = _drawing(report)
    html = page(
        words.title_of_lesson(report.player),
        _facts(report),
        _parts(report, drawing),
        closing=words.written_on(report.written_at),
    )
    return WrittenReport(html, drawing)


def changes(report: LessonReport) -> tuple[Change, ...]:
    """Return every note with what became of it, the highest first."""
    before = {note.midi: note for note in report.before}
    after = {note.midi: note for note in report.after}
    every = sorted({*before, *after}, reverse=True)
    found = [_change(midi, before.get(midi), after.get(midi)) for midi in every]
    known = {
        one.midi: (one.change_cents, one.half_cents)
        for one in found
        if one.change_cents is not None and one.half_cents
    }
    clear = dict(zip(known, beyond_chance(list(known.values())), strict=True))
    return tuple(replace(one, clear=clear.get(one.midi, False)) for one in found)


def _change(midi: int, before: UsualNote | None, after: UsualNote | None) -> Change:
    if before is None or after is None:
        return Change(
            midi=midi,
            before_cents=before.usual.mean if before else None,
            after_cents=after.usual.mean if after else None,
            held_since=after.count if after else 0,
        )
    one, other = before.usual, after.usual
    return Change(
        midi=midi,
        before_cents=one.mean,
        after_cents=other.mean,
        change_cents=other.mean - one.mean,
        # the variances of two independent estimates add up
        half_cents=hypot(one.high - one.mean, other.high - other.mean),
        held_since=after.count,
    )


def _facts(report: LessonReport) -> str:
    held = sum(note.count for note in report.after)
    told = (
        report.instrument,
        say("since {day}", day=words.day_in_words(report.since)),
        words.played(held, report.sittings),
        words.minutes_played(report.minutes),
    )
    return " · ".join(filter(None, told))


def _drawing(report: LessonReport) -> Drawing | None:
    named = {"before": report.before, "since": report.after}
    series = {name: {n.midi: n.usual.mean for n in of} for name, of in named.items() if of}
    if not series:
        return None
    return compared_plot(series, title=words.BEFORE_AND_SINCE_TITLE)


def _parts(report: LessonReport, drawing: Drawing | None) -> Iterator[Element]:
    yield from remark_part(report.remark)
    if drawing is None:
        yield element("p", words.NOTHING_YET)
    else:
        yield from _notes(report, drawing)
    if report.habits.spoken:
        yield section(words.HABITS, *paragraphs(overall_in_words(report.habits)))
    if report.ear:
        yield section(words.THE_EAR, *paragraphs(report.ear))
    lines = [element("li") for _ in range(_LINES)]
    yield section(words.FOR_NEXT_TIME, element("ol", *lines, class_="lines"))
    told = (words.MEASURED, HOW_WORKED_OUT, LONG_TONES, LOUDNESS, POSTURE)
    yield small_print(told)


def _notes(report: LessonReport, drawing: Drawing) -> Iterator[Element]:
    found = changes(report)
    since = [note.summary for note in report.after]
    worst = sorted(since, key=lambda n: -hypot(n.mean_cents, n.spread_cents))
    yield element("p", words.notes_in_need(worst[:_MOST_IN_NEED]), class_="next")
    yield from paragraphs(_told(found) or [words.NO_CLEAR_CHANGE])
    yield section(
        words.EVERY_NOTE,
        figure(drawing, "changes", caption=words.BEFORE_AND_SINCE),
        table(_CHANGES, map(_cells, found), caption=words.AS_NUMBERS_MEANS),
    )


def _told(found: tuple[Change, ...]) -> list[str]:
    largest = sorted(found, key=lambda one: -abs(one.change_cents or 0.0))
    return [
        words.changed_most(note_name(one.midi), one.change_cents or 0.0, closer=one.closer)
        for one in largest
        if one.clear
    ]


def _cells(one: Change) -> tuple[str, ...]:
    size = signed(one.change_cents)
    told = size if one.half_cents is None else f"{size} ± {one.half_cents:.1f}"
    verdict = (say("closer") if one.closer else say("further")) if one.clear else ""
    return (
        note_name(one.midi),
        signed(one.before_cents),
        signed(one.after_cents),
        told,
        verdict,
        str(one.held_since),
    )
