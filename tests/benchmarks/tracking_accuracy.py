"""Accuracy and speed of the tracker beside general estimators, on the same sound in one run.

Run ``python -m tests.benchmarks.tracking_accuracy``: it writes the table into
docs/how-it-works/tracking.md. Estimators that are not installed are left out.
"""

import importlib.util
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.reference import ReferencePartials, reference_partials_of
from intonation.tracking.tracker import track
from tests.support.tones import (
    PlayedTone,
    TrueRecording,
    breath,
    clipped,
    in_a_room,
    melody,
    slurred,
    with_hum,
    with_noise,
    with_reference,
)

Real = NDArray[np.float64]
RATE_HZ = 48_000.0
PAGE = Path(__file__).parents[2] / "docs" / "how-it-works" / "tracking.md"
BEGIN, END = "<!-- table begins -->", "<!-- table ends -->"
GROSS_CENTS = 50.0
SURE = 0.5


@dataclass(frozen=True)
class Course:
    """Times and pitches (not a number where none) that an estimator gives."""

    time_s: Real
    f0_hz: Real


def ours(recording: TrueRecording) -> Course:
    frames = track(recording.samples, RATE_HZ, reference=_reference_of(recording)).frames
    return Course(
        np.array([f.time_s for f in frames]),
        np.array([np.nan if f.f0_hz is None else f.f0_hz for f in frames]),
    )


def _reference_of(recording: TrueRecording) -> ReferencePartials | None:
    if recording.reference is None:
        return None
    return reference_partials_of(recording.reference, RATE_HZ)


def praat(recording: TrueRecording) -> Course:
    import parselmouth

    sound = parselmouth.Sound(recording.samples, RATE_HZ)
    pitch = sound.to_pitch_ac(0.01, 240.0, pitch_ceiling=2400.0)
    hz = pitch.selected_array["frequency"]
    return Course(pitch.xs(), np.where(hz > 0.0, hz, np.nan))


def probabilistic_yin(recording: TrueRecording) -> Course:
    import librosa

    hz, _, _ = librosa.pyin(
        recording.samples, fmin=240.0, fmax=2400.0, sr=RATE_HZ, frame_length=4096, hop_length=512
    )
    return Course(np.arange(hz.size) * 512 / RATE_HZ, hz)


def many_comb(recording: TrueRecording) -> Course:
    import aubio

    detect = aubio.pitch("mcomb", 4096, 480, int(RATE_HZ))
    count = recording.samples.size // 480
    blocks = recording.samples[: count * 480].astype(np.float32).reshape(count, 480)
    hz = np.array([float(detect(block)[0]) for block in blocks])
    time_s = ((np.arange(count) + 1) * 480 - 2048) / RATE_HZ
    return Course(time_s, np.where(hz > 0.0, hz, np.nan))


def small_network(recording: TrueRecording) -> Course:
    import swift_f0

    detector = swift_f0.SwiftF0(threads=1)
    found = detector.detect(recording.samples.astype(np.float32), RATE_HZ, fmin=200.0, fmax=2093.0)
    sure = np.asarray(found.confidence) >= SURE
    return Course(np.asarray(found.timestamps), np.where(sure, found.pitch_hz, np.nan))


ESTIMATORS: dict[str, tuple[str, Callable[[TrueRecording], Course]]] = {
    "intonation": ("intonation", ours),
    "normalized autocorrelation (Praat)": ("parselmouth", praat),
    "probabilistic YIN (librosa)": ("librosa", probabilistic_yin),
    "multi-comb (aubio)": ("aubio", many_comb),
    "small network (swift-f0)": ("swift_f0", small_network),
}


def tones(seed: int, count: int, **fixed: float) -> list[PlayedTone]:
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        asked = {
            "f0_hz": float(np.exp(rng.uniform(np.log(300.0), np.log(1800.0)))),
            "duration_s": float(rng.uniform(0.8, 2.2)),
            "noise_db": float(rng.uniform(-35.0, -15.0)),
            "wander_cents": 0.3,
            "level_db": float(rng.uniform(-21.0, -15.0)),
            "vibrato_hz": float(rng.uniform(4.0, 6.0)),
        }
        made.append(PlayedTone(**(asked | fixed)))
    return made


def families(seed: int) -> dict[str, list[TrueRecording]]:
    """Return the recordings of each family."""
    rng = np.random.default_rng(seed)
    steps = np.array([0.0, 2.0, 4.0, 5.0, 7.0, 9.0, 11.0, 12.0])
    scale = 440.0 * 2 ** (steps / 12.0)
    played = [PlayedTone(f0_hz=float(hz), duration_s=1.2, gap_s=0.15) for hz in scale]
    clean = melody(tones(seed + 6, 8, noise_db=-30.0), seed + 6)
    beside = [
        PlayedTone(f0_hz=523.25 * i * 2 ** (float(rng.uniform(2, 20)) / 1200), duration_s=1.2)
        for i in (1.0, 2.0, 1.5, 1.25, 1.2, 1.0)
    ]
    chord = [523.25, 523.25 * 2 ** (4 / 12), 523.25 * 1.5]
    return {
        "a steady": [melody(tones(seed, 20), seed)],
        "b vibrato": [melody(tones(seed + 1, 16, vibrato_cents=18.0, cents_per_db=6.0), seed + 1)],
        "c swells": [
            melody(tones(seed + 2, 12, swell_db=12.0, cents_per_db=2.0, duration_s=2.5), seed + 2)
        ],
        "d reverberation": [
            in_a_room(melody(played, seed + 3), seed + k, reverberation_s=0.3 + 0.25 * k)
            for k in range(3)
        ],
        "e reference in the room": [
            with_reference(
                melody(beside, seed + 4), heard, seed + 5, relative_db=level, clock_ppm=50.0
            )
            for level in (-20.0, -10.0, 0.0)
            for heard in ([523.25], chord)
        ],
        "f slurred and tongued": [
            slurred(scale.tolist(), seed + 7, each_s=0.35, tone=PlayedTone(f0_hz=440.0)),
            melody([PlayedTone(f0_hz=660.0, duration_s=0.35, gap_s=0.08)] * 12, seed + 7),
        ],
        "g noise, clipping, hum": [
            with_noise(clean, seed, signal_to_noise_db=10.0),
            clipped(clean, over_db=6.0),
            with_hum(clean, mains_hz=50.0, level_db=-30.0),
        ],
    }


def figures(recordings: list[TrueRecording], hear: Callable[[TrueRecording], Course]) -> str:
    """Return median frame error / median note error / 95th percentile / gross errors."""
    frames, notes = [], []
    for recording in recordings:
        course = hear(recording)
        for true in recording.notes:
            inside = (course.time_s >= true.sustain_from_s) & (
                course.time_s <= true.offset_s - 0.02
            )
            cents = 1200.0 * np.log2(course.f0_hz[inside] / true.hz_at(course.time_s[inside]))
            frames.append(cents)
            if np.any(~np.isnan(cents)):
                middle_hz = float(np.nanmedian(course.f0_hz[inside]))
                true_hz = float(np.median(true.hz_at(course.time_s[inside])))
                notes.append(abs(1200.0 * np.log2(middle_hz / true_hz)))
    every = np.abs(np.concatenate(frames))
    gross = np.mean(np.isnan(every) | (every > GROSS_CENTS))
    return (
        f"{np.nanmedian(every):.3f} / {np.median(notes):.3f} / {np.percentile(notes, 95):.2f}"
        f" / {100 * gross:.1f} %"
    )


def coverage(recordings: list[TrueRecording]) -> float:
    """Return the share of notes whose interval of 1.645 standard errors holds the true median."""
    inside = []
    for recording in recordings:
        for heard in track(recording.samples, RATE_HZ, reference=_reference_of(recording)).notes:
            true = min(recording.notes, key=lambda n: abs(n.onset_s - heard.onset_s))
            cents = 1200.0 * np.log2(heard.f0_hz / true.median_hz)
            inside.append(abs(cents) < 1.645 * heard.standard_error_cents)
    return float(np.mean(inside))


def bound_cents(length_s: float, seed: int) -> float:
    """Return the median over family a of the expected absolute error at the Cramér–Rao bound.

    For a harmonic sum in noise of power density S(f) (one-sided, per hertz) the variance of the
    fundamental in hertz is at least ``3 / (pi^2 T^3 sum_h h^2 A_h^2 / S(h f0))``: e.g.
    M. G. Christensen & A. Jakobsson, *Multi-Pitch Estimation* (2009), from memory, with the noise
    taken as flat around each partial.
    """
    errors = []
    for tone in tones(seed, 20):
        noise = breath(1 << 17, np.random.default_rng(seed), about_hz=tone.f0_hz)
        noise *= 10.0 ** ((tone.noise_db or -25.0) / 20.0) / np.sqrt(2.0)
        power = np.abs(np.fft.rfft(noise)) ** 2 * 2.0 / (noise.size * RATE_HZ)
        density = np.convolve(power, np.ones(101) / 101, mode="same")
        orders = np.arange(1, len(tone.partials_db) + 1)
        bins = np.rint(orders * tone.f0_hz * noise.size / RATE_HZ).astype(int)
        strength = 10.0 ** (np.array(tone.partials_db) / 10.0) * orders**2 / density[bins]
        hz = np.sqrt(3.0 / (np.pi**2 * length_s**3 * np.sum(strength)))
        errors.append(0.6745 * 1200.0 / np.log(2.0) * hz / tone.f0_hz)
    return float(np.median(errors))


def table(seed: int) -> str:
    """Measure everything and return the table."""
    sets = families(seed)
    names = [n for n, (module, _) in ESTIMATORS.items() if importlib.util.find_spec(module)]
    rows = [["family", *names]]
    spent = dict.fromkeys(names, 0.0)
    for family, recordings in sets.items():
        row = [family]
        for name in names:
            begin_s = time.process_time()
            row.append(figures(recordings, ESTIMATORS[name][1]))
            spent[name] += time.process_time() - begin_s
        rows.append(row)
        print(" | ".join(row), file=sys.stderr)
    length_s = sum(r.samples.size / RATE_HZ for group in sets.values() for r in group)
    rows.append(["seconds of sound per CPU second", *(f"{length_s / spent[n]:.0f}" for n in names)])
    rows.insert(1, ["---"] * len(rows[0]))
    lines = ["| " + " | ".join(row) + " |" for row in rows]
    bounds = ", ".join(
        f"{bound_cents(s, seed):.3f} in {1000 * s:.0f} ms" for s in (0.04, 0.08, 0.16)
    )
    lines += [
        "",
        f"Cramér–Rao bound in family a, median absolute error of a frame in cents: {bounds}.",
    ]
    more = [families(seed + k) for k in range(1, 4)]
    covered = ", ".join(
        f"{family[0]} {coverage([r for one in more for r in one[family]]):.2f}" for family in sets
    )
    lines += ["", f"Intervals of 90 % that hold the truth, three further seeds: {covered}."]
    left_out = [n for n in ESTIMATORS if n not in names]
    if left_out:
        lines += ["", f"Not installed here and left out: {', '.join(left_out)}."]
    return "\n".join(lines)


def main() -> None:
    """Write the table into the page."""
    text = PAGE.read_text(encoding="utf-8")
    before, rest = text.split(BEGIN)
    after = rest.split(END)[1]
    measured = table(2024)
    PAGE.write_text(f"{before}{BEGIN}\n{measured}\n{END}{after}", encoding="utf-8")


if __name__ == "__main__":
    main()
