"""The workshop on paper: what is wrong, what could be tried, what was tried and what it did."""

from collections.abc import Iterator, Sequence

from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import signed
from intonation.report.paragraphs import paragraph
from intonation.report.prediction_chart import prediction_lines
from intonation.report.table import Column, table_lines
from intonation.words.causes import (
    NOT_TOLD_APART,
    cause_line,
    look_alikes_line,
    octaves_line,
    rivals_lines,
)
from intonation.words.diagnosis import change_in_words, give_or_take, overall_in_words
from intonation.words.proof import proof_in_words, trial_line
from intonation.words.work_cautions import BEFORE_ANY_WORK, cautions_for
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
from intonation.workshop.causes import RankedCause
from intonation.workshop.examining import Examination
from intonation.workshop.planning import PlannedWork
from intonation.workshop.proof import NoteProof, Proof
from intonation.workshop.trial import Trial

SHOWN_CAUSES = 4
_PROOF = (
    Column(say("note"), numeric=False),
    Column(say("after − before")),
    Column(say("predicted")),
    Column("", numeric=False),
    Column("", numeric=False),
)


def examination_lines(found: Examination) -> Iterator[str]:
    """Yield what is wrong with an instrument and what could be tried."""
    for sentence in overall_in_words(found.offsets.overall):
        yield from paragraph(sentence)
    yield ""
    yield from cause_lines(found.ranked)
    yield ""
    yield from work_list_lines(found.works)
    yield from paragraph(getting_by_in_words(found.getting_by))
    yield from paragraph(model_in_words(found.compass.geometry))


def cause_lines(ranked: Sequence[RankedCause]) -> Iterator[str]:
    """Yield the most probable causes and what would tell them apart, fit for a terminal."""
    for indent, sentence in cause_sentences(ranked):
        yield from paragraph(sentence, indent=indent)


def cause_sentences(ranked: Sequence[RankedCause]) -> Iterator[tuple[int, str]]:
    """Yield the same as whole sentences, each with its indent."""
    yield 0, say("What is wrong, the most probable first:")
    shown = [entry for entry in ranked[:SHOWN_CAUSES] if entry.probability >= 0.01]
    for entry in shown:
        yield 4, cause_line(entry)
        for about in filter(None, (octaves_line(entry), look_alikes_line(entry))):
            yield 8, about
    for sentence in rivals_lines(shown):
        yield 0, sentence
    yield 0, NOT_TOLD_APART


def work_list_lines(works: Sequence[PlannedWork]) -> Iterator[str]:
    """Yield what could be tried, numbered, reversible work first."""
    if works:
        yield say("What could be tried, reversible work first:")
    for number, work in enumerate(works, 1):
        yield from paragraph(
            say(
                "{number}  {work} ({reason}; {kept_or_cut}; notes then within "
                "{after_window_cents:.0f} cents)",
                number=number,
                work=work_in_words(work.alterations),
                reason=reason_in_words(work.reason),
                kept_or_cut=kept_or_cut(work),
                after_window_cents=work.after_window_cents,
            ),
            indent=4,
        )
    yield from paragraph(reach_in_words(works))


def planned_lines(work: PlannedWork) -> Iterator[str]:
    """Yield some work, what it is predicted to do to every note, and its cautions."""
    yield from paragraph(
        say(
            "{work} This {kept_or_cut}.",
            work=work_in_words(work.alterations),
            kept_or_cut=kept_or_cut(work),
        )
    )
    yield from paragraph(window_in_words(work))
    yield from paragraph(side_effects_in_words(work))
    yield ""
    yield from prediction_lines(work)
    yield ""
    for caution in (BEFORE_ANY_WORK, *cautions_for(work.alterations)):
        yield from paragraph(caution)


def trial_lines(trials: Sequence[Trial]) -> Iterator[str]:
    """Yield the trials, the oldest first."""
    if not trials:
        yield say("No trial is logged.")
    for trial in trials:
        yield from paragraph(trial_line(trial))


def proof_lines(proof: Proof) -> Iterator[str]:
    """Yield what a trial did to every note, side effects first."""
    yield from paragraph(trial_line(proof.trial))
    for sentence in proof_in_words(proof):
        yield from paragraph(sentence)
    if proof.notes:
        yield ""
        yield from table_lines(_PROOF, map(_proof_cells, proof.notes))


def _proof_cells(note: NoteProof) -> tuple[str, ...]:
    agreement = {None: "", True: say("as predicted"), False: say("not as predicted")}[
        note.as_predicted
    ]
    return (
        note_name(note.measured.midi),
        give_or_take(note.measured.change),
        signed(note.predicted_cents, 0),
        change_in_words(note.measured),
        say("side effect") if note.side_effect else agreement,
    )
