"""An instrument examined: its offsets, the likely causes, and the work that could be tried."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from intonation.heldnotes.row import HeldNoteRow
from intonation.workshop.causes import RankedCause, rank_causes
from intonation.workshop.compass import Compass, Progress
from intonation.workshop.faults import Cause
from intonation.workshop.offsets import InstrumentOffsets, offsets_of
from intonation.workshop.planning import PlannedWork, planned_work


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
    ranked
        Causes, the most probable first.
    works
        What could be tried, reversible work first.
    """

    player: str
    instrument: str
    compass: Compass
    offsets: InstrumentOffsets
    ranked: tuple[RankedCause, ...]
    works: tuple[PlannedWork, ...]


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
    ranked = rank_causes(causes, compass.midi, cents, np.nan_to_num(covariance))
    works = planned_work(compass, cents, ranked, progress=lambda share: progress(0.7 + 0.3 * share))
    return Examination(
        player=player,
        instrument=instrument,
        compass=compass,
        offsets=offsets,
        ranked=ranked,
        works=works,
    )
