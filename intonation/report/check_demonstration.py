"""The demonstration of the instrument check as lines of text: what was found beside the truth."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from intonation.diagnosis.results import NoteDiagnosis, PairDiagnosis
from intonation.diagnosis.verdict import ANSWERS, TOLERANCE_CENTS, Answer, classified
from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name
from intonation.report.cells import signed
from intonation.report.paragraphs import paragraph
from intonation.report.table import Column, table_lines
from intonation.words.check import whole_verdict_in_words
from intonation.words.diagnosis import MODEL_ESTIMATE, overall_in_words

Judgement = Literal["right", "partly right", "open", "wrong"]
Parts = tuple[float, float, float]

_COLUMNS = (
    Column(say("note"), numeric=False),
    Column(say("instrument")),
    Column(say("breath")),
    Column(say("fingers")),
    Column(say("truly"), numeric=False),
    Column(say("verdict"), numeric=False),
)


def _story(size: str) -> str:
    return say(
        "A simulated player goes through the whole instrument check on an invented {size}. The "
        "player plays, slips and is asked again; engine, tracker, record and model are the real "
        "ones. Player and instrument have faults of known size, so the verdict can be compared "
        "with the truth.",
        size=name_in_words(size),
    )


@dataclass(frozen=True, slots=True)
class CheckDemonstration:
    """A check whose truth is known.

    Parameters
    ----------
    size
        Of the instrument.
    asked, kept
        How many tones were asked for, and how many notes are in the record.
    pair
        The verdict.
    truth
        Instrument's, breath's and fingers' part of every note in cents.
    """

    size: str
    asked: int
    kept: int
    pair: PairDiagnosis
    truth: Mapping[int, Parts]


def check_demonstration_lines(shown: CheckDemonstration) -> Iterator[str]:
    """Yield the demonstration line by line."""
    yield from paragraph(_story(shown.size))
    yield ""
    yield say("{asked} tones asked for, {kept} rows kept.", asked=shown.asked, kept=shown.kept)
    yield from paragraph(whole_verdict_in_words(shown.pair))
    for sentence in overall_in_words(shown.pair.overall):
        yield from paragraph(sentence)
    yield ""
    yield say("Cents from the mean of all notes, found / true:")
    true = centred(shown)
    yield from table_lines(_COLUMNS, (_row(note, true[note.midi]) for note in shown.pair.notes))
    yield ""
    yield from paragraph(_summary([judged(n, true[n.midi]) for n in shown.pair.notes]))
    yield from paragraph(MODEL_ESTIMATE)


def centred(shown: CheckDemonstration) -> dict[int, Parts]:
    """Return the true parts from their means over the notes that were judged, as found ones are."""
    midi = [note.midi for note in shown.pair.notes]
    parts = np.array([shown.truth[each] for each in midi])
    off_mean = (parts - parts.mean(axis=0)).tolist()
    return {each: (one, two, three) for each, (one, two, three) in zip(midi, off_mean, strict=True)}


def truly(parts: Parts) -> Answer:
    """Return who owns a note's deviation, given its true parts."""
    instrument, breath, fingers = parts
    answer = classified(
        np.array([instrument]), np.array([breath + fingers]), tolerance_cents=TOLERANCE_CENTS
    )
    return ANSWERS[int(answer[0])]


def judged(note: NoteDiagnosis, parts: Parts) -> Judgement:
    """Return whether a verdict is right."""
    truth, verdict = truly(parts), note.verdict
    if verdict == truth:
        return "right"
    if verdict == "not enough evidence":
        return "open"
    named = verdict.removeprefix("at least partly the ")
    return "partly right" if verdict != named and truth in (named, "both") else "wrong"


def _row(note: NoteDiagnosis, true: Parts) -> tuple[str, ...]:
    found = (note.instrument, note.breath, note.habit)
    cells = [
        f"{signed(part.mean, 0) if part else '–'} /{signed(each, 0):>4}"
        for part, each in zip(found, true, strict=True)
    ]
    sign = {"right": "", "partly right": "", "open": "", "wrong": say(" (wrong)")}[
        judged(note, true)
    ]
    verdict = f"{name_in_words(note.verdict)}{sign}"
    return (note_name(note.midi), *cells, name_in_words(truly(true)), verdict)


def _summary(judgements: Sequence[Judgement]) -> str:
    counted = Counter(judgements)
    every: tuple[Judgement, ...] = ("right", "partly right", "open", "wrong")
    parts = ", ".join(f"{counted[each]} {name_in_words(each)}" for each in every)
    return say("Verdicts on {judgements} notes: {parts}.", judgements=len(judgements), parts=parts)
