"""The workshop as print: causes, work, predictions and proofs, wrapped to the page."""

import textwrap
from collections.abc import Iterable, Sequence

from textual.content import Content

from intonation.app import workshop_words
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.language import say
from intonation.report.prediction_chart import prediction_lines
from intonation.report.trial_report import cause_sentences, proof_lines
from intonation.words.diagnosis import overall_in_words
from intonation.words.proof import proof_in_words, trial_line
from intonation.words.work_cautions import FIRST_CAUTIONS, cautions_for
from intonation.words.workshop import (
    getting_by_in_words,
    kept_or_cut,
    model_in_words,
    reach_in_words,
    reason_in_words,
    side_effects_in_words,
    window_in_words,
    work_in_words,
)
from intonation.workshop.examining import Examination
from intonation.workshop.planning import PlannedWork
from intonation.workshop.proof import Proof
from intonation.workshop.trial import Trial

_CHART_BESIDE = 28
_WIDEST_CHART = 61
_MARK = "▸"


def wrapped(sentences: Iterable[str], *, width: int, ink: str = TEXT) -> Content:
    """Return sentences as running text, each beginning a line of its own, indented as it begins."""
    lines = [line for text in sentences for line in _lines(text, width=max(20, width))]
    return Content.styled("\n".join(lines), ink)


def _lines(text: str, *, width: int) -> list[str]:
    indent = " " * (len(text) - len(text.lstrip()))
    return textwrap.wrap(text, width, subsequent_indent=indent) or [""]


def examination(found: Examination, *, marked: int, width: int, also: str = "") -> Content:
    """Return what is wrong, and what could be tried with one line marked."""
    about = (*overall_in_words(found.offsets.overall), model_in_words(found.compass.geometry))
    return Content("\n").join(
        [
            *([wrapped([also], width=width, ink=SOFT)] if also else []),
            *_causes(found, width=width),
            *_works(found, marked=marked, width=width),
            Content(""),
            Content.styled(workshop_words.HOW_THE_NOTES_LIE, STRONG),
            wrapped(about, width=width, ink=SOFT),
            Content(""),
            wrapped([workshop_words.MORE_KEYS], width=width, ink=SOFT),
        ]
    )


def row_of_mark(printed: Content) -> int:
    """Return the row of a page in which the mark stands; the first where there is none."""
    rows = printed.plain.split("\n")
    return next((row for row, text in enumerate(rows) if text.startswith(_MARK)), 0)


def _causes(found: Examination, *, width: int) -> list[Content]:
    heading, *causes = (f"{' ' * n}{text}" for n, text in cause_sentences(found.ranked))
    return [Content.styled(heading, STRONG), wrapped(causes, width=width), Content("")]


def _works(found: Examination, *, marked: int, width: int) -> list[Content]:
    """Return the works, and before any cutting how to get by without."""
    works = found.works
    lines = [Content.styled(workshop_words.WHAT_COULD_BE_TRIED, STRONG)] if works else []
    for place, work in enumerate(works):
        if found.getting_by and place == sum(each.reversible for each in works):
            lines.append(wrapped([getting_by_in_words(found.getting_by)], width=width))
        text = say(
            "{work} ({reason}; {kept_or_cut}; notes then within {after_window_cents:.0f} cents)",
            work=work_in_words(work.alterations),
            reason=reason_in_words(work.reason),
            kept_or_cut=kept_or_cut(work),
            after_window_cents=work.after_window_cents,
        )
        lines += marked_lines(text, marked=place == marked, width=width)
    reach = reach_in_words(works)
    return [*lines, wrapped([reach], width=width, ink=STRONG)] if reach else lines


def marked_lines(text: str, *, marked: bool, width: int) -> list[Content]:
    """Return running text with a mark before it if it is the marked one."""
    left = [Content.styled(_MARK if marked else " ", STRONG)]
    lines = beside(left, text, indent=2, width=width, ink=STRONG if marked else TEXT)
    return [line.pad_right(max(0, width - line.cell_length)) for line in lines]


def prediction(work: PlannedWork, *, width: int) -> Content:
    """Return some work with its prediction for every note, and its cautions."""
    chart = min(width - _CHART_BESIDE, _WIDEST_CHART)
    told = [
        say(
            "{work} This {kept_or_cut}.",
            work=work_in_words(work.alterations),
            kept_or_cut=kept_or_cut(work),
        ),
        window_in_words(work),
    ]
    side_effects = side_effects_in_words(work)
    return Content("\n").join(
        [
            wrapped(told, width=width, ink=STRONG),
            *([wrapped([side_effects], width=width)] if side_effects else []),
            wrapped(FIRST_CAUTIONS, width=width),
            wrapped([workshop_words.CAUTIONS_BENEATH], width=width, ink=SOFT),
            Content(""),
            Content.styled("\n".join(prediction_lines(work, chart_width=chart)), TEXT),
            Content(""),
            wrapped(_other_cautions(work), width=width, ink=SOFT),
        ]
    )


def _other_cautions(work: PlannedWork) -> list[str]:
    """Return the cautions that do not stand at the head of the page."""
    return [each for each in cautions_for(work.alterations) if each not in FIRST_CAUTIONS]


def trials(known: Sequence[Trial], *, marked: int, width: int) -> Content:
    """Return every trial, the latest first, with one marked."""
    lines: list[Content] = []
    for place, trial in enumerate(known):
        lines += marked_lines(trial_line(trial), marked=place == marked, width=width)
    return Content("\n").join(lines)


def proof(found: Proof, *, width: int) -> Content:
    """Return what a trial did, side effects first."""
    if not found.notes:
        return wrapped(proof_in_words(found), width=width)
    lines = list(proof_lines(found))
    about = next((i for i, line in enumerate(lines) if not line), len(lines))
    # the trial itself stands in the list already
    table = Content.styled("\n".join(lines[about:]), TEXT)
    return Content("\n").join([wrapped(proof_in_words(found), width=width, ink=STRONG), table])
