"""What held notes say about the instrument itself: its offsets and how surely they are known."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.diagnosis.attribution import (
    Attribution,
    Node,
    Progress,
    attribution_of,
    unwatched,
)
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.overall import overall_of, overall_pitch
from intonation.diagnosis.parts import Interval, Parts, combined_parts, interval, parts_of
from intonation.diagnosis.results import Overall
from intonation.heldnotes.row import HeldNoteRow

FEWEST_NOTES = 5
"""Offsets are counted from the mean of the notes; fewer notes have no middle worth the name."""

_UNKNOWN_CENTS = 100.0
"""No note of an instrument lies further off; keeps what was not measured within bounds."""

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class InstrumentOffsets:
    """Where an instrument's notes lie once player, warm-up and day are taken out.

    Parameters
    ----------
    midi
        Measured notes, rising.
    cents
        Offset of each from the mean of them all, as the notes alone tell it: nothing is expected
        of the instrument, so these are not drawn towards an even one.
    covariance
        Of these offsets.
    overall
        The whole: overall pitch, window, octaves.
    """

    midi: tuple[int, ...]
    cents: Array
    covariance: Array
    overall: Overall

    def intervals(self) -> tuple[Interval, ...]:
        """Return every note's offset with its 90 % interval."""
        sds = np.sqrt(np.diag(self.covariance))
        return tuple(interval(float(m), float(s)) for m, s in zip(self.cents, sds, strict=True))

    def placed(self, compass: Sequence[int]) -> tuple[Array, Array]:
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
    midi, cents, covariance = _instrument_part(fit, parts, **pair)
    overall = overall_of(parts, overall_pitch(fit, **pair))
    return InstrumentOffsets(midi, cents, covariance, overall)


def _instrument_part(
    fit: Attribution, parts: Parts, *, player: int, instrument: int
) -> tuple[tuple[int, ...], Array, Array]:
    """Return the instrument's part of each sounding note as the notes alone tell it.

    Of a note played with two kinds of fingering the better known counts.
    """
    ideal = fit.ideal
    chosen = np.flatnonzero((ideal.player == player) & (ideal.instrument == instrument))
    told = [_told(node, len(fit.evidence.readings) + chosen) for node in fit.nodes]
    weights = np.array([node.weight for node in fit.nodes])
    means, within = (np.array(each) for each in zip(*told, strict=True))
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
    kept = np.array([best[note] for note in midi], dtype=np.intp)
    return midi, np.asarray(mean[kept]), np.asarray(covariance[np.ix_(kept, kept)])


def _told(node: Node, rows: NDArray[np.intp]) -> tuple[Array, Array]:
    """Return offsets and covariance without what the diagnosis expects of instruments.

    It expects them to be even, which draws its estimates together; causes are expectations of
    another kind, and both at once would count twice. A posterior divided by its prior is the
    likelihood (for normal distributions the precisions are subtracted).
    """
    by_effect, _, _ = combined_parts(node.design, rows)
    across = _about_the_mean(len(rows))
    expected = across.T @ (by_effect * node.state.prior_variance) @ by_effect.T @ across
    found = across.T @ node.state.covariance(by_effect) @ across
    precision = np.linalg.inv(found)
    loose = np.eye(len(found)) / _UNKNOWN_CENTS**2
    covariance = np.linalg.inv(precision - np.linalg.inv(expected) + loose)
    mean = covariance @ precision @ across.T @ node.state.means(by_effect)
    return across @ mean, across @ covariance @ across.T


def _about_the_mean(count: int) -> Array:
    """Return orthonormal directions, one per column, in which the mean of all notes stays."""
    centring = np.eye(count) - 1.0 / count
    directions, _, _ = np.linalg.svd(centring)
    return np.asarray(directions[:, : count - 1])
