"""Ear, breath or instrument against a sounding reference, from what the record has of a pair."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.parts import HALF_WIDTH_90, Interval
from intonation.diagnosis.results import PairDiagnosis
from intonation.diagnosis.three_way import (
    FEWEST_MATCHED,
    Hearing,
    MatchedNote,
    ThreeWay,
    three_way,
)
from intonation.heldnotes.row import HeldNoteRow
from intonation.listening.estimate import EarEstimate
from intonation.listening.trials import Condition
from intonation.store.checks import HeldToReference
from intonation.words.levers import levers_in_words, missing_for_levers

DRILL = "which way"
"""The drill that tells where a tone sounds in tune, and how blurred that is."""
_FEWEST_REPEATS = 4


@dataclass(frozen=True, slots=True)
class Known:
    """What the record has of a pair.

    Parameters
    ----------
    pair
        Its diagnosis.
    rows
        Its notes without a reference.
    matched
        Its latest notes against a reference.
    ear
        What the player's answers by ear have told.
    """

    pair: PairDiagnosis
    rows: Sequence[HeldNoteRow]
    matched: Sequence[HeldToReference]
    ear: Mapping[Condition, EarEstimate]


def levers_sentence(known: Known) -> str:
    """Return what keeps the player from a reference, or what is missing to tell."""
    hearing, motor = hearing_of(known.ear), repeated_spread(known.rows)
    matched = matched_notes(known)
    found: ThreeWay | None = None
    if motor is not None:
        found = three_way(matched, hearing=hearing, motor_cents=motor)
    if found is not None:
        return levers_in_words(found)
    return missing_for_levers(
        ear=hearing is None,
        matched=max(0, FEWEST_MATCHED - len(matched)),
        repeats=motor is None,
    )


def hearing_of(ear: Mapping[Condition, EarEstimate]) -> Hearing | None:
    """Return what listening has shown, from the interval with the most answers; None if too few."""
    measured = [
        estimate
        for condition, estimate in ear.items()
        if condition.drill == DRILL and estimate.standing == "measured"
    ]
    best = max(measured, key=lambda estimate: estimate.answers, default=None)
    if best is None or best.bias_cents is None:
        return None
    bias = best.bias_cents
    return Hearing(
        bias_cents=bias.value,
        bias_sd_cents=(bias.high - bias.low) / (2.0 * HALF_WIDTH_90),
        log_blur=best.log_blur,
        log_blur_sd=best.log_blur_sd,
    )


def repeated_spread(rows: Sequence[HeldNoteRow]) -> Interval | None:
    """Return the spread of the same tone repeated in one sitting; None with too few repeats."""
    repeats: dict[tuple[str, int], list[float]] = defaultdict(list)
    for row in rows:
        if row.kind == "natural":
            repeats[row.session, row.midi].append(row.cents)
    groups = [np.array(cents) for cents in repeats.values() if len(cents) > 1]
    freedom = sum(len(cents) - 1 for cents in groups)
    if freedom < _FEWEST_REPEATS:
        return None
    squares = sum(float(np.sum((cents - np.median(cents)) ** 2)) for cents in groups)
    spread = math.sqrt(squares / freedom)
    # the usual approximation for the standard error of a standard deviation
    reach = HALF_WIDTH_90 * spread / math.sqrt(2.0 * freedom)
    return Interval(spread, max(0.0, spread - reach), spread + reach)


def matched_notes(known: Known) -> list[MatchedNote]:
    """Return the notes against a reference, with what the player does on them without one."""
    usual = {note.midi: note.total.mean for note in known.pair.notes}
    ends = _ends_of_swells(known.rows)
    pitch = known.pair.overall.pitch.mean
    notes = []
    for held in known.matched:
        if held.midi not in usual:
            continue
        soft, loud = ends.get(held.midi, (-math.inf, math.inf))
        notes.append(
            MatchedNote(
                cents=held.cents,
                unmatched_cents=pitch + usual[held.midi] - held.target_cents,
                low_cents=soft - held.target_cents,
                high_cents=loud - held.target_cents,
            )
        )
    return notes


def _ends_of_swells(rows: Sequence[HeldNoteRow]) -> dict[int, tuple[float, float]]:
    """Return how low and how high each note was bent."""
    bent: dict[int, list[float]] = defaultdict(list)
    for row in rows:
        if row.kind == "careful-swell":
            bent[row.midi].append(row.cents)
    return {midi: (min(cents), max(cents)) for midi, cents in bent.items()}
