"""The report of one sitting, or of one take of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from xml.etree.ElementTree import Element

from intonation.assessment.summary import NoteSummary, TakeSummary
from intonation.heldnotes.traced_note import TracedNote
from intonation.report.pages.drawing import Drawing
from intonation.report.pages.markup import element, page, paragraphs
from intonation.report.pages.parts import (
    WrittenReport,
    figure,
    held_table,
    means_drawing,
    means_table,
    of_one_sitting,
    remark_part,
    section,
    small_print,
    traces,
)
from intonation.words import report as words
from intonation.words.cautions import LONG_TONES, POSTURE
from intonation.words.take import practise_next, whole_in_words

MOST_DRAWN, MOST_LISTED = 24, 200


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionReport:
    """What was played in one sitting.

    Parameters
    ----------
    player, instrument
        Who played what.
    began_at, written_at
        When it began, and the date of the report.
    played_with
        Concert pitch, tuning and drone of each kind of take, in words.
    temperature_c
        Mean room temperature; None if unknown.
    notes
        Every note's mean, worst first.
    held
        Every held note in order, with its trace where one was kept.
    remark
        The writer's own words.
    """

    player: str
    instrument: str
    began_at: datetime | None
    written_at: datetime
    played_with: tuple[str, ...]
    temperature_c: float | None
    notes: tuple[NoteSummary, ...]
    held: tuple[TracedNote, ...]
    remark: str = ""


def session_page(report: SessionReport) -> WrittenReport:
    """Return the page of a sitting."""
    drawing = means_drawing(of_one_sitting(report.notes), title=words.EVERY_NOTE_TITLE)
    html = page(
        f"{report.player}, {words.moment_in_words(report.began_at)}",
        _facts(report),
        _parts(report, drawing),
        closing=words.written_on(report.written_at),
    )
    return WrittenReport(html, drawing if report.notes else None)


def _facts(report: SessionReport) -> str:
    held = words.played(len(report.held), 1)
    told = [report.instrument, *report.played_with, words.room(report.temperature_c), held]
    return " · ".join(fact for fact in told if fact)


def _parts(report: SessionReport, drawing: Drawing) -> Iterator[Element]:
    yield from remark_part(report.remark)
    if not report.notes:
        yield element("p", words.NOTHING_YET)
        return
    summary = TakeSummary(report.notes, report.notes[0].midi)
    yield element("p", practise_next(summary), class_="next")
    yield element("p", whole_in_words(summary))
    yield section(
        words.EVERY_NOTE,
        figure(drawing, "means", caption=words.WINDOW),
        means_table(of_one_sitting(report.notes), caption=words.AS_NUMBERS_FARTHEST),
    )
    yield from _looked_at(report)
    yield small_print(
        (words.MEASURED, words.HOW_SURE, words.BLIND, words.THIRDS, LONG_TONES, POSTURE)
    )


def _looked_at(report: SessionReport) -> Iterator[Element]:
    drawn = report.held[:MOST_DRAWN]
    pictures = list(traces(drawn))
    if pictures:
        more = len(report.held) - len(drawn)
        left_out = [words.drawn_and_listed(len(drawn), more)] if more else []
        yield section(words.NOTE_BY_NOTE, *paragraphs(left_out, class_="small"), *pictures)
    listed = report.held[:MOST_LISTED]
    caption = words.how_each_went(len(listed), len(report.held))
    yield held_table(listed, caption=caption)
