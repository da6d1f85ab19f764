"""What held notes say about the instrument itself: its offsets and how surely they are known."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.diagnosis.attribution import Progress, attribution_of, unwatched
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.overall import overall_of, overall_pitch
from intonation.diagnosis.parts import Interval, Parts, interval, parts_of
from intonation.diagnosis.results import Overall
from intonation.heldnotes.row import HeldNoteRow

FEWEST_NOTES = 5
"""Offsets are counted from the mean of the notes; fewer notes have no middle worth the name."""


@dataclass(frozen=True, slots=True)
class InstrumentOffsets:
    """Where an instrument's notes lie once player, warm-up and day are taken out.

    Parameters
    ----------
    midi
        Measured notes, rising.
    cents
        Offset of each from the mean of them all.
    covariance
        Of these offsets.
    overall
        The whole: overall pitch, window, octaves.
    """

    midi: tuple[int, ...]
    cents: NDArray[np.float64]
    covariance: NDArray[np.float64]
    overall: Overall

    def intervals(self) -> tuple[Interval, ...]:
        """Return every note's offset with its 90 % interval."""
        sds = np.sqrt(np.diag(self.covariance))
        return tuple(interval(float(m), float(s)) for m, s in zip(self.cents, sds, strict=True))

    def placed(self, compass: Sequence[int]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return offsets and covariance over another list of notes; NaN where none was measured."""
        where = {midi: i for i, midi in enumerate(compass)}
        known = [(where[midi], i) for i, midi in enumerate(self.midi) if midi in where]
        to, of = (np.array(side, dtype=np.intp) for side in zip(*known, strict=True))
        cents = np.full(len(compass), np.nan)
        covariance = np.full((len(compass), len(compass)), np.nan)
        cents[to] = self.cents[of]
        covariance[np.ix_(to, to)] = self.covariance[np.ix_(of, of)]
        return cents, covariance


def offsets_of(
    rows: Iterable[HeldNoteRow],
    *,
    player: str,
    instrument: str,
    progress: Progress = unwatched,
) -> InstrumentOffsets | None:
    """Return an instrument's offsets as one player's notes show them.

    Parameters
    ----------
    rows
        Held notes; other players of the same instrument sharpen the answer.
    player, instrument
        Names of the pair.
    progress
        Called with the share that is done; an exception from it cancels.

    Returns
    -------
    InstrumentOffsets or None
        None if the pair has held fewer than five different notes.
    """
    evidence = evidence_from(rows)
    axes = evidence.axes
    if player not in axes.players or instrument not in axes.instruments:
        return None
    pair = {"player": axes.players.index(player), "instrument": axes.instruments.index(instrument)}
    fit = attribution_of(evidence, progress=progress)
    parts = parts_of(fit, **pair)
    if len({note.midi for note in parts.notes}) < FEWEST_NOTES:
        return None
    midi, cents, covariance = _instrument_part(parts)
    overall = overall_of(parts, overall_pitch(fit, **pair))
    return InstrumentOffsets(midi, cents, covariance, overall)


def _instrument_part(
    parts: Parts,
) -> tuple[tuple[int, ...], NDArray[np.float64], NDArray[np.float64]]:
    """Return the instrument's part of each sounding note over the whole mixture.

    Of a note played with two kinds of fingering the better known counts.
    """
    count = len(parts.notes)
    weights = np.array([component.weight for component in parts.components])
    means = np.array([component.mean[:count] for component in parts.components])
    within = np.array([component.covariance[:count, :count] for component in parts.components])
    mean = weights @ means
    left = means - mean
    covariance = np.einsum("c,cij->ij", weights, within)
    covariance += np.einsum("c,ci,cj->ij", weights, left, left)
    best: dict[int, int] = {}
    for i, note in enumerate(parts.notes):
        known = best.get(note.midi)
        if known is None or covariance[i, i] < covariance[known, known]:
            best[note.midi] = i
    midi = tuple(sorted(best))
    chosen = np.array([best[note] for note in midi], dtype=np.intp)
    return midi, np.asarray(mean[chosen]), np.asarray(covariance[np.ix_(chosen, chosen)])
