"""The trace of a held note shows what was played: where it lay, how it swelled and wavered."""

import numpy as np
import pytest
from scipy.signal import hilbert

from intonation.tracking.trace import MOST_POINTS, STEP_S
from intonation.tracking.tracing import trace_of
from intonation.tracking.tracker import track

RATE_HZ = 48_000.0


def played(cents: np.ndarray, level: np.ndarray, *, hz: float = 700.0) -> np.ndarray:
    """Return a tone of three partials whose pitch and level follow given courses."""
    phase = 2.0 * np.pi * np.cumsum(hz * 2.0 ** (cents / 1200.0)) / RATE_HZ
    tone = level * (np.sin(phase) + 0.3 * np.sin(2.0 * phase) + 0.1 * np.sin(3.0 * phase))
    noise = np.random.default_rng(3).normal(0.0, 1e-4, tone.size)
    silence = np.zeros(round(0.3 * RATE_HZ))
    return np.concatenate([silence, 0.2 * tone + noise, silence])


def test_a_note_that_sinks_and_fades_is_seen_to_sink_and_to_fade() -> None:
    time_s = np.arange(round(2.0 * RATE_HZ)) / RATE_HZ
    samples = played(-10.0 * time_s, 10.0 ** (-6.0 * time_s / 2.0 / 20.0))
    (note,) = track(samples, RATE_HZ).notes
    trace = note.trace
    assert trace is not None
    assert len(trace.cents) == pytest.approx(note.duration_s / STEP_S, abs=2)
    known = [
        (t, c, d)
        for t, c, d in zip(trace.times_s, trace.cents, trace.level_db, strict=True)
        if c is not None and d is not None and 0.2 < t < 1.8
    ]
    times, cents, levels = np.array(known).T
    slope, begins = np.polyfit(times, cents, 1)
    assert slope == pytest.approx(-10.0, abs=0.3)
    assert np.polyfit(times, levels, 1)[0] == pytest.approx(-3.0, abs=0.2)
    middle_of_sustain_s = (0.15 + note.duration_s) / 2.0
    assert begins + slope * middle_of_sustain_s == pytest.approx(0.0, abs=0.3)


def test_a_vibrato_is_seen_as_wide_as_the_analytic_signal_has_it() -> None:
    """Against the instantaneous frequency of scipy's analytic signal, on the same samples."""
    time_s = np.arange(round(1.5 * RATE_HZ)) / RATE_HZ
    samples = played(8.0 * np.sin(2.0 * np.pi * 5.0 * time_s), np.ones(time_s.size))
    (note,) = track(samples, RATE_HZ).notes
    assert note.trace is not None
    inside = samples[round((note.onset_s + 0.3) * RATE_HZ) : round((note.onset_s + 1.2) * RATE_HZ)]
    spectrum = np.fft.rfft(inside * np.hanning(inside.size))
    spectrum[np.fft.rfftfreq(inside.size, 1.0 / RATE_HZ) > 1000.0] = 0.0
    phase = np.unwrap(np.angle(hilbert(np.fft.irfft(spectrum))))
    middle = slice(inside.size // 4, -inside.size // 4)
    hz = np.diff(phase)[middle] * RATE_HZ / 2.0 / np.pi
    true_cents = 600.0 * np.log2(hz.max() / hz.min())
    shown = [c for c, t in zip(note.trace.cents, note.trace.times_s, strict=True) if 0.3 < t < 1.2]
    assert None not in shown
    assert (max(shown) - min(shown)) / 2.0 == pytest.approx(true_cents, rel=0.12)


def test_a_very_long_note_takes_no_more_room_than_a_long_one() -> None:
    time_s = np.arange(0.0, 600.0, 0.01)
    trace = trace_of(
        time_s,
        np.full(time_s.size, 440.0),
        np.full(time_s.size, -20.0),
        onset_s=0.0,
        offset_s=600.0,
        note_hz=440.0,
    )
    assert len(trace.cents) <= MOST_POINTS
    assert trace.step_s * len(trace.cents) == pytest.approx(600.0, rel=0.01)
    assert set(trace.cents) == {0.0}


def test_what_was_not_heard_is_left_open() -> None:
    time_s = np.concatenate([np.arange(0.0, 0.5, 0.01), np.arange(0.8, 1.0, 0.01)])
    trace = trace_of(
        time_s,
        np.full(time_s.size, 440.0),
        np.full(time_s.size, -20.0),
        onset_s=0.0,
        offset_s=1.0,
        note_hz=440.0,
    )
    assert trace.cents[24] is None
    assert trace.level_db[24] is None
    assert trace.cents[36] == 0.0
