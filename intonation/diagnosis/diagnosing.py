"""From held notes to a diagnosis of every player on every instrument."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

import numpy as np

from intonation.diagnosis.attribution import Attribution, Progress, attribution_of, unwatched
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.knowable import bend_of, is_told_apart
from intonation.diagnosis.overall import overall_of, overall_pitch
from intonation.diagnosis.parts import Interval, Parts, interval, parts_of
from intonation.diagnosis.planner import next_experiments
from intonation.diagnosis.results import NoteDiagnosis, PairDiagnosis
from intonation.diagnosis.verdict import TOLERANCE_CENTS, Verdict, probabilities, verdict_of
from intonation.heldnotes.row import HeldNoteRow

_BLAMES = ("instrument", "player", "both")

FEWEST_NOTES = 5
"""Every note is judged by its place among the others; fewer say nothing about one of them."""


def diagnose(
    rows: Iterable[HeldNoteRow],
    *,
    changed: Collection[str] = frozenset(),
    tolerance_cents: float = TOLERANCE_CENTS,
    progress: Progress = unwatched,
) -> tuple[PairDiagnosis, ...]:
    """Return the diagnosis of every pair of player and instrument.

    Parameters
    ----------
    rows
        Held notes of any players and instruments that have something in common.
    changed
        Sessions after an adjustment; the diagnosis is of the instrument before it.
    tolerance_cents
        How far from its place among the others a note may be to be in tune.
    progress
        Called with the share that is done; an exception from it cancels.
    """
    evidence = evidence_from(rows, changed=changed)
    if not len(evidence.readings):
        return ()
    fit = attribution_of(evidence, progress=progress)
    pairs = sorted(set(zip(fit.ideal.player.tolist(), fit.ideal.instrument.tolist(), strict=True)))
    return tuple(_pair(fit, player, instrument, tolerance_cents) for player, instrument in pairs)


def _pair(fit: Attribution, player: int, instrument: int, tolerance_cents: float) -> PairDiagnosis:
    parts = parts_of(fit, player=player, instrument=instrument)
    notes = _notes(fit, parts, tolerance_cents)
    undecided = [i for i, note in enumerate(notes) if _is_open(note.verdict)]
    following = {}
    if len(notes) >= FEWEST_NOTES:
        following = next_experiments(
            fit, parts, open_notes=undecided, tolerance_cents=tolerance_cents
        )
    pitch = overall_pitch(fit, player=player, instrument=instrument)
    return PairDiagnosis(
        player=parts.player,
        instrument=parts.instrument,
        overall=overall_of(parts, pitch),
        notes=tuple(replace(n, next=following.get(i, ())) for i, n in enumerate(notes)),
    )


def _is_open(verdict: Verdict) -> bool:
    return verdict.startswith(("at least", "not enough"))


def _notes(fit: Attribution, parts: Parts, tolerance_cents: float) -> list[NoteDiagnosis]:
    count = len(parts.notes)
    eye, none = np.eye(count), np.zeros((count, count))
    rows = ((eye, eye, eye), (eye, none, none), (none, eye, eye), (none, eye, none))
    asked = np.vstack([np.hstack(row) for row in (*rows, (none, none, eye))])
    mean, sd = (values.reshape(5, count) for values in parts.mixed(asked))
    return [
        _note(fit, parts, i, tuple(map(interval, mean[:, i], sd[:, i])), tolerance_cents)
        for i in range(count)
    ]


def _note(
    fit: Attribution, parts: Parts, index: int, parted: Sequence[Interval], tolerance_cents: float
) -> NoteDiagnosis:
    total, instrument, player, breath, habit = parted
    chances = probabilities(parts.pairs_of(index), tolerance_cents=tolerance_cents)
    told_apart = is_told_apart(fit.evidence, parts, index)
    verdict = verdict_of(chances)
    if len(parts.notes) < FEWEST_NOTES or (verdict in _BLAMES and not told_apart):
        verdict = "not enough evidence"
    bends = bend_of(fit, parts, index)
    return NoteDiagnosis(
        midi=parts.notes[index].midi,
        fingering=parts.notes[index].fingering,
        total=total,
        instrument=instrument,
        player=player,
        breath=breath if bends else None,
        habit=habit if bends else None,
        cents_per_db=bends,
        verdict=verdict,
        probabilities=chances,
    )
