"""What a trial really did, note by note, beside what it was predicted to do."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.attribution import Progress, unwatched
from intonation.diagnosis.comparison import NOTICEABLE_CENTS, NoteChange, compare
from intonation.diagnosis.parts import Interval, interval
from intonation.heldnotes.row import HeldNoteRow
from intonation.workshop.trial import Trial
from intonation.workshop.window_change import WindowChange, window_change

MODEL_ERROR_CENTS = 3.0
"""How far a prediction may be off without being wrong (judgement; the model is unmeasured)."""

PROVEN = 0.3
"""A trial is proven when its notes surely moved more than this share of what was predicted."""

_LEAST_SPREAD_CENTS = 1.0
_Z90 = 1.645


@dataclass(frozen=True, slots=True)
class NoteProof:
    """One note after a trial.

    Parameters
    ----------
    measured
        Its change with interval and verdict, relative to the change of all notes together.
    predicted_cents
        Its predicted change, counted in the same way; None where nothing was predicted.
    """

    measured: NoteChange
    predicted_cents: float | None

    @property
    def side_effect(self) -> bool:
        """Whether it changed although it should not have, or the wrong way."""
        if self.measured.verdict != "changed" or self.predicted_cents is None:
            return False
        expected = abs(self.predicted_cents) > NOTICEABLE_CENTS
        return not (expected and self.predicted_cents * self.measured.change.mean > 0.0)

    @property
    def as_predicted(self) -> bool | None:
        """Whether measurement and prediction agree; None where nothing was predicted."""
        if self.predicted_cents is None:
            return None
        allowed = _Z90 * float(np.hypot(self.measured.error_cents, MODEL_ERROR_CENTS))
        return abs(self.measured.change.mean - self.predicted_cents) <= allowed


@dataclass(frozen=True, slots=True)
class Proof:
    """A trial with what it did to every note that was measured before and after.

    Parameters
    ----------
    trial, notes
        What was done, and what came of it.
    window
        What became of the window of these notes; None for fewer than five of them.
    """

    trial: Trial
    notes: tuple[NoteProof, ...]
    window: WindowChange | None = None

    @property
    def strength(self) -> Interval | None:
        """How far all notes together moved as a share of what was predicted, 1 being exactly so.

        A straight line through changes against predictions, weighted by their errors; None where
        the prediction moves all notes nearly alike.
        """
        rows = [
            (n.measured.change.mean, n.predicted_cents, n.measured.error_cents)
            for n in self.notes
            if n.predicted_cents is not None
        ]
        if len(rows) < 3:
            return None
        changed, predicted, error = np.array(rows).T
        weight = 1.0 / (error**2 + MODEL_ERROR_CENTS**2)
        centred = predicted - np.average(predicted, weights=weight)
        if np.sqrt(np.average(centred**2, weights=weight)) < _LEAST_SPREAD_CENTS:
            return None
        information = float(weight @ centred**2)
        return interval(float(weight @ (centred * changed)) / information, information**-0.5)

    @property
    def side_effects(self) -> tuple[NoteProof, ...]:
        """Notes that changed although they should not have."""
        return tuple(note for note in self.notes if note.side_effect)


def prove(
    trial: Trial,
    rows: Iterable[HeldNoteRow],
    *,
    before: Collection[str],
    after: Collection[str],
    progress: Progress = unwatched,
) -> Proof:
    """Return what a trial did; no notes if too few were measured on both sides of it.

    Parameters
    ----------
    trial
        What was done and predicted.
    rows
        Held notes of its player on its instrument.
    before, after
        Sessions without and with the work.
    progress
        Called with the share that is done; an exception from it cancels.

    Notes
    -----
    Side effects come first, then changed notes, then the rest, each by pitch. A change of all notes
    together cannot be told from the day's pitch, so predictions are moved together to fit best.
    """
    kept = list(rows)
    changes = compare(kept, before=before, after=after, progress=progress)
    shift = _common_shift(trial, changes)
    notes = [NoteProof(change, _relative(trial, change.midi, shift)) for change in changes]
    notes.sort(key=lambda note: (not note.side_effect, note.measured.verdict != "changed"))
    window = window_change(kept, before=before, after=after, progress=progress) if notes else None
    return Proof(trial, tuple(notes), window)


def _common_shift(trial: Trial, changes: Iterable[NoteChange]) -> float:
    apart = [
        trial.predicted_cents[change.midi] - change.change.mean
        for change in changes
        if change.midi in trial.predicted_cents
    ]
    return float(np.median(apart)) if apart else 0.0


def _relative(trial: Trial, midi: int, shift: float) -> float | None:
    predicted = trial.predicted_cents.get(midi)
    return None if predicted is None else predicted - shift
