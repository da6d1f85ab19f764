"""The sound of one simulated note: breath, pitch, partials and noise, with its exact truth."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.pitch.notes import equal_tempered_hz
from intonation.simulation.habits import Habits
from intonation.simulation.plan import PlannedNote
from intonation.simulation.recorder import SimulatedRecorder

Real = NDArray[np.float64]

ATTACK_S, RELEASE_S, SUSTAIN_FROM_S = 0.03, 0.06, 0.15
_FUNDAMENTAL_DBFS = -20.0
_SCOOP_CENTS, _SCOOP_S = 12.0, 0.03
_EAR_S = 0.25
_MOST_CORRECTION_CENTS = 12.0
_SAG_OVER_S = 4.0
_CHIFF_DB, _CHIFF_S = 14.0, 0.02
_LOW_PARTIALS_DB = (0.0, -9.0, -18.0, -33.0, -40.0, -46.0)
_SECOND_PARTIALS_DB = (0.0, -25.0, -30.0, -42.0)
_HALF_PARTIAL_DB = -54.0
_PARTIAL_GROWTH = 0.5
"""Invented for simulation. The partials stay within the ranges measured on the duct flute of
D. Chin & G. Xia, arXiv:2107.08727, and on sampled recorders; odd half-integer partials exist and
are weak (JASA 154 (2023) 2917, abstract)."""


@dataclass(frozen=True, slots=True)
class NoteCourse:
    """What truly happens in one note, sample by sample.

    Parameters
    ----------
    f0_hz
        Fundamental frequency, shape ``(samples,)``.
    breath_db
        Breath relative to an ordinary one, same shape.
    """

    f0_hz: Real
    breath_db: Real


def course_of(
    note: PlannedNote,
    *,
    recorder: SimulatedRecorder,
    habits: Habits,
    a4_hz: float,
    aim_hz: float | None,
    time_s: Real,
    rng: np.random.Generator,
) -> NoteCourse:
    """Return pitch and breath of a note over its whole length.

    Parameters
    ----------
    note, recorder, habits
        What is played, on what, and how.
    a4_hz
        Concert pitch for which the recorder was made.
    aim_hz
        Pure interval over the reference that the player hears; None without a reference.
    time_s
        Seconds from the onset, shape ``(samples,)``.
    rng
        Source of the unsteadiness.
    """
    slope = recorder.cents_per_db[note.midi]
    equal_hz = equal_tempered_hz(note.midi, a4_hz=a4_hz)
    steady_db, still_cents = _steady(note, recorder, habits)
    aim_cents = None if aim_hz is None else 1200.0 * float(np.log2(aim_hz / equal_hz))
    correction_db = _correction_db(still_cents + slope * steady_db, aim_cents, habits, slope)
    breath_db = (
        steady_db
        + correction_db * -np.expm1(-time_s / _EAR_S)
        + note.swell_db * (time_s / note.sounding_s - 0.5)
        - habits.sag_db * (time_s / _SAG_OVER_S) ** 2
        + habits.wander_db * _slow_noise(time_s, rng, (0.3, 0.7, 1.1, 1.9))
    )
    cents = (
        still_cents
        + slope * breath_db
        - _SCOOP_CENTS * np.exp(-time_s / _SCOOP_S)
        + habits.jitter_cents * _slow_noise(time_s, rng, (3.0, 4.7, 7.1, 11.3))
        + habits.vibrato_cents * np.sin(2.0 * np.pi * habits.vibrato_hz * time_s)
    )
    return NoteCourse(equal_hz * np.exp2(cents / 1200.0), breath_db)


def _steady(note: PlannedNote, recorder: SimulatedRecorder, habits: Habits) -> tuple[float, float]:
    """Return the breath in dB that a note begins with, and its cents at an ordinary breath."""
    second = recorder.instrument.in_second_register(note.midi)
    habit_db = habits.second_breath_db if second else habits.low_breath_db
    fingers_cents = note.fingers_cents + (habits.thumb_cents if second else 0.0)
    return habit_db + note.breath_db, recorder.offset_cents[note.midi] + fingers_cents


def _correction_db(
    cents: float, aim_cents: float | None, habits: Habits, cents_per_db: float
) -> float:
    """Return the breath with which the player goes towards the reference."""
    if aim_cents is None:
        return 0.0
    wanted_cents = habits.matching * (aim_cents - cents)
    return float(np.clip(wanted_cents, -_MOST_CORRECTION_CENTS, _MOST_CORRECTION_CENTS)) / (
        cents_per_db
    )


def _slow_noise(time_s: Real, rng: np.random.Generator, rates_hz: tuple[float, ...]) -> Real:
    """Return a smooth unsteadiness of unit standard deviation: a few slow waves at random."""
    amplitudes = rng.normal(0.0, 1.0, len(rates_hz)) / np.sqrt(len(rates_hz) / 2.0)
    phases = rng.uniform(0.0, 2.0 * np.pi, len(rates_hz))
    waves = (
        amplitude * np.sin(2.0 * np.pi * rate * time_s + phase)
        for amplitude, rate, phase in zip(amplitudes, rates_hz, phases, strict=True)
    )
    return np.asarray(sum(waves, np.zeros_like(time_s)))


def sound_of(
    course: NoteCourse,
    *,
    second_register: bool,
    breath_noise_db: float,
    sample_rate_hz: float,
    rng: np.random.Generator,
) -> Real:
    """Return the samples of a note, shape ``(samples,)``, full scale being 1.

    Parameters
    ----------
    course
        What happens in it.
    second_register
        Decides the partials.
    breath_noise_db
        Level of the breath's noise relative to the fundamental.
    sample_rate_hz
        Samples per second.
    rng
        Source of phases and noise.
    """
    phase = 2.0 * np.pi * np.cumsum(course.f0_hz) / sample_rate_hz
    level = 10.0 ** ((_FUNDAMENTAL_DBFS + course.breath_db) / 20.0)
    tone = _partials(course, phase, second_register, sample_rate_hz, rng)
    noise = _breath_noise(len(phase), rng) * 10.0 ** (breath_noise_db / 20.0)
    time_s = np.arange(len(phase)) / sample_rate_hz
    chiff = 1.0 + 10.0 ** (_CHIFF_DB / 20.0) * np.exp(-time_s / _CHIFF_S)
    return np.asarray((tone + noise * chiff) * level * _envelope(time_s))


def _partials(
    course: NoteCourse,
    phase: Real,
    second_register: bool,
    sample_rate_hz: float,
    rng: np.random.Generator,
) -> Real:
    levels_db = _SECOND_PARTIALS_DB if second_register else _LOW_PARTIALS_DB
    orders = [*range(1, len(levels_db) + 1), 1.5]
    highest_hz = float(course.f0_hz.max())
    tone = np.zeros_like(phase)
    for order, level_db in zip(orders, (*levels_db, _HALF_PARTIAL_DB), strict=True):
        shift = rng.uniform(0.0, 2.0 * np.pi)
        if order * highest_hz < 0.45 * sample_rate_hz:
            growth_db = _PARTIAL_GROWTH * (order - 1.0) * course.breath_db
            tone += 10.0 ** ((level_db + growth_db) / 20.0) * np.sin(order * phase + shift)
    return tone


def _breath_noise(samples: int, rng: np.random.Generator) -> Real:
    """Return noise of unit power with the hiss of a windway: even, but softer on top."""
    kernel = np.hanning(7)[1:-1]
    kernel /= np.sqrt(np.sum(kernel**2))
    white = rng.standard_normal(samples + len(kernel) - 1)
    return np.convolve(white, kernel, mode="valid")


def _envelope(time_s: Real) -> Real:
    """Return the rise and fall of a note's amplitude, 0 to 1."""
    rise = np.clip(time_s / ATTACK_S, 0.0, 1.0)
    fall = np.clip((time_s[-1] - time_s) / RELEASE_S, 0.0, 1.0)
    return np.asarray(np.sin(0.5 * np.pi * rise) ** 2 * np.sin(0.5 * np.pi * fall) ** 2)
