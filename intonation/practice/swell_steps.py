"""A swell cut into steps of level, from its softest moment to its loudest."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.events import HeldNote, PitchFrame

Real = NDArray[np.float64]

MOST_STEPS, LEAST_FRAMES = 8, 4
_ATTACK_S, _RELEASE_S = 0.2, 0.25
"""Left out at the ends: the note speaks and dies there, whatever breath does (design judgement)."""
_SMOOTHED_FRAMES = 15


@dataclass(frozen=True, slots=True)
class LevelStep:
    """One step of a swell: its median frequency in hertz, and its RMS level in dBFS."""

    f0_hz: float
    level_db: float


def swell_steps(frames: Sequence[PitchFrame], held: HeldNote) -> tuple[LevelStep, ...]:
    """Return the steps of a swell, the softest first; none of a tone too short to have any.

    Parameters
    ----------
    frames
        What was heard meanwhile, in order of time.
    held
        The tone. Whether it grew or sank does not matter: pitch follows level either way.
    """
    begin_s, end_s = held.onset_s + _ATTACK_S, held.offset_s - _RELEASE_S
    inside = [(f.f0_hz, f.level_db) for f in frames if f.f0_hz and begin_s <= f.time_s <= end_s]
    if len(inside) < 2 * LEAST_FRAMES:
        return ()
    f0_hz, level_db = (np.array(column) for column in zip(*inside, strict=True))
    soft, loud = _ends(level_db)
    first, last = sorted((soft, loud))
    count = min(MOST_STEPS, (last - first) // LEAST_FRAMES)
    places = np.array_split(np.arange(first, last + 1), count) if count else []
    steps = [_step(f0_hz[place], level_db[place]) for place in places]
    return tuple(steps if soft < loud else reversed(steps))


def _ends(level_db: Real) -> tuple[int, int]:
    """Return where the tone is softest and where it is loudest, apart from short wobbles."""
    width = min(_SMOOTHED_FRAMES, len(level_db))
    padded = np.pad(level_db, (width // 2, width - 1 - width // 2), mode="edge")
    smooth = np.convolve(padded, np.full(width, 1.0 / width), mode="valid")
    return int(np.argmin(smooth)), int(np.argmax(smooth))


def _step(f0_hz: Real, level_db: Real) -> LevelStep:
    power = float(np.mean(10.0 ** (level_db / 10.0)))
    return LevelStep(float(np.median(f0_hz)), 10.0 * float(np.log10(power)))
