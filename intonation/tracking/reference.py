"""The reference that sounds in the room, as a sum of steady partials."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.errors import SoundFileError
from intonation.language import say

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

_LONGEST_S = 16.0
_SHORTEST_S = 1.0
_PIECE_S = 0.05
_LEVEL_TOLERANCE = 1.6
_WEAKEST = 10.0 ** (-75.0 / 20.0)
_LOBE_BINS = 4
_MOST_PARTIALS = 160
_COSINES = (0.35875, -0.48829, 0.14128, -0.01168)
"""Four-term Blackman-Harris window: F. J. Harris, Proc. IEEE 66 (1978) 51, table 1; from memory."""


@dataclass(frozen=True, slots=True)
class ReferencePartials:
    """The partials of a steady reference.

    Parameters
    ----------
    frequencies_hz
        By the clock of whatever sounds them.
    levels_db
        RMS level of each in dBFS, as sounded.
    """

    frequencies_hz: tuple[float, ...]
    levels_db: tuple[float, ...]


def reference_partials_of(
    samples: NDArray[np.floating], sample_rate_hz: float
) -> ReferencePartials:
    """Return the steady partials in a recording of the reference alone.

    Parameters
    ----------
    samples
        The recording, mono, shape ``(samples,)``.
    sample_rate_hz
        Its sample rate.

    Raises
    ------
    SoundFileError
        If less than a second of it is steady sound.

    Notes
    -----
    Each frequency comes from the advance of phase between the two halves of the longest steady
    stretch, under a window whose side lobes lie 92 dB down.
    """
    steady = _steady_stretch(np.asarray(samples, dtype=np.float64), sample_rate_hz)
    half = steady.size // 2
    window = _window(half)
    early, late = (np.fft.rfft(window * part, 2 * half) for part in (steady[:half], steady[-half:]))
    peaks = _peaks(np.abs(early) + np.abs(late))
    per_bin = 2.0 * np.pi / (2 * half)
    apart = steady.size - half
    advance = np.angle(late[peaks] * early[peaks].conj() * np.exp(-1j * per_bin * peaks * apart))
    frequencies_hz = (per_bin * peaks + advance / apart) * sample_rate_hz / (2.0 * np.pi)
    rms = 2.0 * np.abs(early[peaks]) / np.sum(window) / np.sqrt(2.0)
    order = np.argsort(frequencies_hz)
    return ReferencePartials(
        tuple(frequencies_hz[order].tolist()), tuple((20.0 * np.log10(rms[order])).tolist())
    )


def _steady_stretch(samples: Real, sample_rate_hz: float) -> Real:
    """Return the middle of the longest stretch whose level stays the same."""
    piece = round(_PIECE_S * sample_rate_hz)
    count = samples.size // piece
    power = np.mean(samples[: count * piece].reshape(count, piece) ** 2, axis=1)
    middle = float(np.median(power)) if count else 0.0
    steady = (power < middle * _LEVEL_TOLERANCE) & (power > middle / _LEVEL_TOLERANCE)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], steady, [False]]).astype(np.int8)))
    runs = edges.reshape(-1, 2)
    begin, end = max(runs, key=lambda run: run[1] - run[0], default=np.zeros(2, dtype=np.intp))
    if middle <= 0.0 or (end - begin) * _PIECE_S < _SHORTEST_S + 2 * _PIECE_S:
        raise SoundFileError(
            say("The reference recording holds less than a second of steady sound."),
            say("Give a recording of the reference alone, sounding on without a change."),
        )
    begin, end = (begin + 1) * piece, (end - 1) * piece
    spare = max(0, end - begin - round(_LONGEST_S * sample_rate_hz)) // 2
    return samples[begin + spare : end - spare]


def _window(count: int) -> Real:
    turn = 2.0 * np.pi * np.arange(count) / count
    return np.asarray(sum(c * np.cos(k * turn) for k, c in enumerate(_COSINES)))


def _peaks(size: Real) -> NDArray[np.intp]:
    """Return the bins of local maxima outside the lobes of stronger ones, strongest first."""
    inner = size[1:-1]
    found = 1 + np.flatnonzero(
        (inner >= size[:-2]) & (inner > size[2:]) & (inner > _WEAKEST * np.max(size))
    )
    found = found[found > 2 * _LOBE_BINS]
    strongest_first = found[np.argsort(-size[found])]
    taken: list[int] = []
    for peak in strongest_first.tolist():
        if all(abs(peak - other) > 2 * _LOBE_BINS for other in taken):
            taken.append(peak)
        if len(taken) == _MOST_PARTIALS:
            break
    return np.array(taken, dtype=np.intp)
