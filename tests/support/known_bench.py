"""A workbench whose instrument is known without any listening: its numbers are written down here.

The faults are real patterns of the acoustic model; what is left of the player is invented.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache

import numpy as np

from intonation.diagnosis.comparison import NoteChange
from intonation.diagnosis.parts import interval
from intonation.diagnosis.results import Octave, Overall
from intonation.engine.workbench import Workbench
from intonation.store.store import Store
from intonation.workshop.causes import rank_causes
from intonation.workshop.examining import Examination
from intonation.workshop.offsets import InstrumentOffsets
from intonation.workshop.planning import planned_work
from intonation.workshop.proof import NoteProof, Proof
from intonation.workshop.trial import Trial
from intonation.workshop.window_change import WindowChange
from tests.support.faulty_alto import PLAYER, alto, alto_causes

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
UNCERTAIN_CENTS = 3.0
UNEVEN_CENTS = (1.5, -2.0, 0.5, 2.5, -1.0, 0.0, -2.5, 1.0)


def known_offsets() -> InstrumentOffsets:
    """Octaves 24 cents too wide, hole 4 too small by 18 cents, and a little unevenness."""
    drawn = {(cause.kind, cause.hole): np.array(cause.pattern) for cause in alto_causes()}
    midi = alto().midi
    uneven = np.resize(UNEVEN_CENTS, len(midi))
    cents = 24.0 * drawn["octaves", None] - 18.0 * drawn["hole size", "4"] + uneven
    cents -= np.mean(cents)
    at = dict(zip(midi, cents.tolist(), strict=True))
    octaves = tuple(
        Octave(low=low, high=low + 12, width=interval(at[low + 12] - at[low], 4.0))
        for low in midi
        if low + 12 in at
    )
    window = interval(float(np.ptp(cents)), 4.0)
    whole = Overall(pitch=interval(-7.0, 6.5), window=window, octaves=octaves)
    return InstrumentOffsets(midi, cents, UNCERTAIN_CENTS**2 * np.eye(len(midi)), whole)


@cache
def known_examination() -> Examination:
    offsets = known_offsets()
    ranked = rank_causes(alto_causes(), alto().midi, offsets.cents, offsets.covariance)
    return Examination(
        player=PLAYER,
        instrument="alto",
        compass=alto(),
        offsets=offsets,
        expected_cents=offsets.cents,
        ranked=ranked,
        works=planned_work(alto(), offsets.cents, ranked),
    )


def known_proof(trial: Trial) -> Proof:
    """Most notes moved as predicted; one did not, and one moved that should have stayed."""
    middle = float(np.median(list(trial.predicted_cents.values())))
    notes = []
    for place, (midi, predicted) in enumerate(trial.predicted_cents.items()):
        about = predicted - middle
        change = -14.0 if midi == 78 else about + UNEVEN_CENTS[place % len(UNEVEN_CENTS)]
        changed = abs(change) > 9.0
        verdict = "changed" if changed else "cannot tell" if abs(change) > 2.0 else "unchanged"
        measured = NoteChange(
            midi=midi,
            change=interval(change, 3.0),
            error_cents=3.0,
            verdict=verdict,
            probability=0.95 if changed else 0.4,
        )
        notes.append(NoteProof(measured, about))
    notes.sort(key=lambda note: (not note.side_effect, note.measured.verdict != "changed"))
    window = WindowChange(notes=len(notes), before=interval(46.0, 4.0), after=interval(33.0, 4.0))
    return Proof(trial, tuple(notes), window)


@dataclass(slots=True)
class KnownBench(Workbench):
    """Examines nothing; trials are kept in the store like any others."""

    measured_again: bool = False

    def examine(self, *_: str, **__: object) -> Examination:
        return known_examination()

    def prove(self, trial: Trial, **_: object) -> Proof:
        return known_proof(trial) if self.measured_again else Proof(trial, ())


def known_bench(*, measured_again: bool = False) -> KnownBench:
    store = Store(None)
    bench = KnownBench(store, lambda: EVENING + timedelta(hours=2))
    bench.measured_again = measured_again
    return bench
