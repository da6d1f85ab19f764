"""An instrument examined: its offsets, the likely causes, and the work that could be tried."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.parts import Interval, interval
from intonation.heldnotes.row import HeldNoteRow
from intonation.workshop.causes import RankedCause, rank_causes
from intonation.workshop.compass import Cents, Compass, Progress
from intonation.workshop.explanations import expected_offsets
from intonation.workshop.faults import Cause
from intonation.workshop.getting_by import GettingBy, getting_by
from intonation.workshop.offsets import InstrumentOffsets, offsets_of
from intonation.workshop.planning import PlannedWork, planned_work
from intonation.workshop.proposal import window_of

_DRAWS = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Examination:
    """What is known of one instrument.

    Parameters
    ----------
    player, instrument
        Whose notes told it, of which instrument.
    compass
        The instrument as the model knows it.
    offsets
        Where its notes lie.
    expected_cents
        Where the notes of the compass probably lie, given what is known of causes.
    ranked
        Causes, the most probable first.
    works
        What could be tried, reversible work first.
    getting_by
        Notes that only cutting would put right, and how to play them.
    """

    player: str
    instrument: str
    compass: Compass
    offsets: InstrumentOffsets
    expected_cents: Cents
    ranked: tuple[RankedCause, ...]
    works: tuple[PlannedWork, ...]
    getting_by: tuple[GettingBy, ...] = ()


def examine(
    rows: Iterable[HeldNoteRow],
    *,
    player: str,
    instrument: str,
    compass: Compass,
    causes: Sequence[Cause],
    progress: Progress = lambda _: None,
) -> Examination | None:
    """Return what held notes tell of an instrument; None if there are too few of them.

    Parameters
    ----------
    rows
        Held notes since the instrument was last changed.
    player, instrument
        Names of the pair.
    compass, causes
        The instrument as the model knows it, and the faults that it could have.
    progress
        Called with the share that is done; an exception from it cancels.
    """
    offsets = offsets_of(
        rows, player=player, instrument=instrument, progress=lambda share: progress(0.7 * share)
    )
    if offsets is None or not set(offsets.midi) & set(compass.midi):
        return None
    cents, covariance = offsets.placed(compass.midi)
    known = (causes, compass.midi, cents, np.nan_to_num(covariance))
    ranked, expected, spread = rank_causes(*known), *expected_offsets(*known)
    works = planned_work(
        compass, expected, ranked, progress=lambda share: progress(0.7 + 0.3 * share)
    )
    return Examination(
        player=player,
        instrument=instrument,
        compass=compass,
        offsets=replace(
            offsets, overall=replace(offsets.overall, window=_window(expected, spread))
        ),
        expected_cents=expected,
        ranked=ranked,
        works=works,
        getting_by=getting_by(compass, expected, ranked),
    )


def _window(expected_cents: Cents, spread: Cents) -> Interval:
    """Return the distance from the flattest to the sharpest note, with its 90 % interval."""
    # the same draws every time: a result must not change when it is asked for again
    rng = np.random.default_rng(0)
    notes = expected_cents[np.isfinite(expected_cents)]
    drawn = rng.multivariate_normal(notes, spread, _DRAWS, method="eigh")
    return interval(window_of(notes), float(np.std(np.ptp(drawn, axis=1))))
