"""Whether anything but the pitch tells the answers of an ear drill apart: level, brightness, onset.

A linear discriminant (R. A. Fisher, Ann. Eugen. 7 (1936) 179) sees what a listener without any
sense of pitch could go by, measured from the samples themselves.
"""

from collections.abc import Callable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from intonation.listening.drill import Drill, drills
from intonation.listening.drills.tune_it import TuneIt
from intonation.listening.stimuli import rendered
from intonation.listening.trials import HeardTone, Trial
from tests.support.ears import ALTO_EAR, FALLING_FOURTH

Samples = NDArray[np.float32]
Seen = tuple[list[float], bool]
"""What is measured in one trial, and one of two answers."""

CUE_RATE_HZ = 24_000
STEP_CENTS = 20.0
DRILLS = drills(ALTO_EAR, tunes=(FALLING_FOURTH,))


def trials_of(
    drill: Drill, count: int, rng: np.random.Generator, *, step_cents: float = STEP_CENTS
) -> list[Trial]:
    """Return trials of one difficulty, half of them flat where the direction is asked."""
    signed = drill.question(drill.conditions()[0]).signed
    found = []
    for number in range(count):
        condition = drill.conditions()[number % min(2, len(drill.conditions()))]
        side = -1.0 if signed and rng.random() < 0.5 else 1.0
        found.append(drill.trial(condition, side * step_cents, rng))
    return found


def seen_in(name: str, count: int, rng: np.random.Generator) -> Iterator[Seen]:
    """Yield what can be measured in some trials of a drill, with the answer that it might tell."""
    if name == TuneIt.name:
        trials = _notes_to_tune(count, rng)
    else:
        trials = trials_of(DRILLS[name], count, rng)
    for trial in trials:
        yield _LOOKING[name](trial, rendered(trial, rng, sample_rate_hz=CUE_RATE_HZ))


def cues(tones: Sequence[HeardTone], samples: Samples) -> list[float]:
    """Return level, spectral centroid and onset of one stretch of sound."""
    first = round((min(tone.start_s for tone in tones) - 0.05) * CUE_RATE_HZ)
    last = round(max(tone.end_s for tone in tones) * CUE_RATE_HZ)
    stretch = samples[max(first, 0) : last].astype(np.float64)
    level_db = 10 * np.log10(np.mean(stretch**2) + 1e-12)
    power = np.abs(np.fft.rfft(stretch * np.hanning(stretch.size))) ** 2
    hz = np.fft.rfftfreq(stretch.size, 1 / CUE_RATE_HZ)
    # against the mean power: beats, which are meant to be heard, raise the maximum
    onset = np.argmax(np.abs(stretch) > 0.3 * np.sqrt(np.mean(stretch**2))) / CUE_RATE_HZ
    return [float(level_db), float(np.log2(power @ hz / power.sum())), float(onset)]


def share_classified(features: NDArray[np.float64], answers: NDArray[np.bool_]) -> float:
    """Return the share told apart in trials not seen: two halves that each judge the other."""
    scaled = (features - features.mean(axis=0)) / features.std(axis=0)
    half = len(scaled) // 2
    right = 0
    for taught, judged in ((slice(half), slice(half, None)), (slice(half, None), slice(half))):
        design = np.column_stack([scaled[taught], np.ones(len(scaled[taught]))])
        weights, *_ = np.linalg.lstsq(design, np.where(answers[taught], 1.0, -1.0), rcond=None)
        found = np.column_stack([scaled[judged], np.ones(len(scaled[judged]))]) @ weights > 0
        right += int((found == answers[judged]).sum())
    return right / len(scaled)


def _notes_to_tune(count: int, rng: np.random.Generator) -> list[Trial]:
    drill = TuneIt(ALTO_EAR)
    return [drill.note_to_tune(drill.conditions()[0], rng).heard(2.0) for _ in range(count)]


def _direction(trial: Trial, samples: Samples) -> Seen:
    """See the drone alone and with the tone; is the tone sharp?"""
    drone, tone = trial.tones
    before = cues([drone], samples[: round(tone.start_s * CUE_RATE_HZ)])
    return [*before, *cues([tone], samples)], trial.deviation_cents > 0


def _second_version(trial: Trial, samples: Samples) -> Seen:
    """Compare two versions; is the second in tune?"""
    second_s = trial.version_starts_s[1]
    first = cues([tone for tone in trial.tones if tone.start_s < second_s], samples)
    second = cues([tone for tone in trial.tones if tone.start_s >= second_s], samples)
    return [b - a for a, b in zip(first, second, strict=True)], trial.right == "2"


def _together(trial: Trial, samples: Samples) -> Seen:
    """See everything at once; is the note that is off sharp?"""
    return cues(trial.tones, samples), trial.deviation_cents > 0


def _second_tone(trial: Trial, samples: Samples) -> Seen:
    """Compare two tones; is the second the same?"""
    first, second = (cues([tone], samples) for tone in trial.tones)
    return [b - a for a, b in zip(first, second, strict=True)], trial.right == "same"


def _one_of_two_notes(trial: Trial, samples: Samples) -> Seen:
    """Compare the note that is off with one beside it; is the later of the two off?"""
    melody = trial.tones[: len(trial.choices)]
    off = int(trial.right) - 1
    other = (off + (1 if trial.deviation_cents > 0 else -1)) % len(melody)  # either, by chance
    earlier, later = sorted((off, other))
    first, second = (cues([melody[at]], samples) for at in (earlier, later))
    return [*(b - a for a, b in zip(first, second, strict=True)), float(earlier)], off == later


_LOOKING: dict[str, Callable[[Trial, Samples], Seen]] = {
    "which way": _direction,
    "which is in tune": _second_version,
    "find the culprit": _together,
    "difference tone": _second_version,
    "remember": _second_tone,
    "which note": _one_of_two_notes,
    TuneIt.name: _together,
}
