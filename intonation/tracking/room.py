"""How a reference arrives at the microphone: the gain of each partial, and the clocks' ratio."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.reference import ReferencePartials

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

MOST_CLOCK_PPM = 300.0
_SEARCH_PPM = 400.0
_SEARCH_STEP_PPM = 10.0
_SAME_HZ = 0.02
_HIGHEST_FRACTION = 0.46
_RIDGE = 1e-6
MOST_PARTIALS = 80


@dataclass(frozen=True, slots=True)
class RoomGains:
    """What arrives at the microphone.

    Parameters
    ----------
    gains
        Complex amplitude of each partial at sample 0, shape ``(partials,)``.
    clock
        How much faster the reference runs than its nominal frequencies, as a fraction.
    """

    gains: Complex
    clock: float


def heard_partials(reference: ReferencePartials, rate_hz: float) -> tuple[Real, Real]:
    """Return the partials that can be heard, the strongest kept, no two of one frequency.

    Returns
    -------
    omegas
        Frequencies in radians per sample, rising, shape ``(partials,)``.
    share
        The share of each in the power of all, same shape.
    """
    frequencies = np.array(reference.frequencies_hz)
    power = 10.0 ** (np.array(reference.levels_db) / 10.0)
    inside = np.flatnonzero((frequencies > 0.0) & (frequencies < _HIGHEST_FRACTION * rate_hz))
    loudest = inside[np.argsort(-power[inside], kind="stable")[:MOST_PARTIALS]]
    rising = loudest[np.argsort(frequencies[loudest], kind="stable")]
    group = np.cumsum(np.diff(frequencies[rising], prepend=-1.0) > _SAME_HZ) - 1
    share = np.bincount(group, weights=power[rising])
    first = np.searchsorted(group, np.arange(share.size))
    omegas = 2.0 * np.pi * frequencies[rising][first] / rate_hz
    return omegas, share / np.sum(share)


def gram(omegas: Real, *, begin: int, end: int) -> Complex:
    """Return the inner products of ``exp(i omega n)`` and their conjugates over a stretch.

    Shape ``(2 K, 2 K)``: the ``K`` exponentials first, then their conjugates.
    """
    both = np.concatenate([omegas, -omegas])
    return _geometric(both[None, :] - both[:, None], begin, end)


def _geometric(angle: Real, begin: int, end: int) -> Complex:
    """Return the sum of ``exp(i angle n)`` for n from begin up to end."""
    half = 0.5 * angle
    flat = np.abs(np.sin(half)) < 1e-9
    safe = np.where(flat, 1.0, half)
    size = np.where(flat, end - begin, np.sin((end - begin) * safe) / np.sin(safe))
    return np.asarray(size * np.exp(1j * half * (begin + end - 1)))


def solve(matrix: Complex, right: Complex, *, penalty: Real) -> Complex:
    """Return the real signal's complex amplitudes that fit the projections best.

    Parameters
    ----------
    matrix
        From `gram`.
    right
        Sums of the samples times ``exp(-i omega n)``, shape ``(K,)``.
    penalty
        What is added to the diagonal: inverse variances of the amplitudes times that of the noise.
    """
    full = matrix + np.diag(np.concatenate([penalty, penalty]))
    both = np.linalg.solve(full, np.concatenate([right, right.conj()]))
    return np.asarray(2.0 * both[: right.size], dtype=np.complex128)


def learn(projections: Complex, omegas: Real, *, begin: int, step: int) -> tuple[RoomGains, float]:
    """Fit gains and clock to a stretch in which nothing but the reference sounds.

    Parameters
    ----------
    projections
        For each step the sums of samples times ``exp(-i omega n)``, shape ``(steps, K)``.
    omegas
        Nominal angular frequencies per sample.
    begin, step
        First sample of the stretch, samples per step.

    Returns
    -------
    gains
        The fit.
    explained
        Energy that it explains, in units of squared samples summed.
    """
    steps = projections.shape[0]
    end = begin + steps * step
    centres = np.asarray(begin + step * (np.arange(steps) + 0.5) - 0.5)
    penalty = np.full(omegas.size, _RIDGE * (end - begin))
    matrix = gram(omegas, begin=begin, end=end)
    inverse = np.linalg.inv(matrix + np.diag(np.concatenate([penalty, penalty])))

    def explained(clock: float) -> float:
        right = _turned(projections, omegas, centres, clock)
        both = np.concatenate([right, right.conj()])
        return float((both.conj() @ inverse @ both).real)

    clock = _highest(explained)
    right = _turned(projections, omegas, centres, clock)
    exact = gram(omegas * (1.0 + clock), begin=begin, end=end)
    gains = solve(exact, right, penalty=penalty)
    return RoomGains(gains, clock), explained(clock)


def _turned(projections: Complex, omegas: Real, centres: Real, clock: float) -> Complex:
    return np.asarray(np.sum(projections * np.exp(-1j * clock * centres[:, None] * omegas), axis=0))


def _highest(explained: Callable[[float], float]) -> float:
    """Return the clock that explains most: a grid, then parabolas through ever closer points."""
    count = round(_SEARCH_PPM / _SEARCH_STEP_PPM)
    grid = np.arange(-count, count + 1) * _SEARCH_STEP_PPM * 1e-6
    best = float(grid[int(np.argmax([explained(c) for c in grid]))])
    width = _SEARCH_STEP_PPM * 1e-6
    for _ in range(4):
        low, middle, high = (explained(best + d) for d in (-width, 0.0, width))
        curve = low - 2.0 * middle + high
        if curve >= 0.0:
            break
        best += float(np.clip(0.5 * (low - high) / curve, -1.0, 1.0)) * width
        width *= 0.3
    return best
