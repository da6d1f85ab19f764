"""Seeded recordings of an invented woodwind player, with the exact pitch at every moment."""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]

RATE_HZ = 48_000.0
SUSTAIN_FROM_S = 0.15


@dataclass(frozen=True, slots=True)
class PlayedTone:
    """What is played: everything that shapes one note.

    Parameters
    ----------
    f0_hz, duration_s, level_db
        Pitch, length and RMS level (dBFS of the fundamental's peak is ``level_db``).
    vibrato_hz, vibrato_cents, drift_cents_per_s, wander_cents
        Movements of the pitch; the wander is a slow unsteadiness (standard deviation).
    swell_db, cents_per_db
        Rise of the level from begin to end, and how the pitch follows the level.
    noise_db
        Breath noise relative to the fundamental; None for none.
    partials_db
        Levels of the partials relative to the first.
    half_partial_db
        Level of the components at half-integer multiples; None for none.
    scoop_cents
        How far below its pitch the note begins.
    gap_s
        Silence after it.
    """

    f0_hz: float
    duration_s: float = 1.5
    level_db: float = -18.0
    vibrato_hz: float = 5.0
    vibrato_cents: float = 0.0
    drift_cents_per_s: float = 0.0
    wander_cents: float = 0.0
    swell_db: float = 0.0
    cents_per_db: float = 0.0
    noise_db: float | None = -25.0
    partials_db: tuple[float, ...] = (0.0, -14.0, -20.0, -34.0, -40.0, -46.0)
    half_partial_db: float | None = None
    scoop_cents: float = 10.0
    gap_s: float = 0.5
    attack_s: float = 0.03
    release_s: float = 0.04


@dataclass(frozen=True, slots=True)
class TrueNote:
    """What truly sounded.

    Parameters
    ----------
    onset_s, offset_s
        Begin and end of the note.
    f0_hz
        Pitch at every sample from the onset on.
    played
        What was asked for.
    """

    onset_s: float
    offset_s: float
    f0_hz: Real
    played: PlayedTone
    sample_rate_hz: float = RATE_HZ

    @property
    def sustain_from_s(self) -> float:
        """Where the part begins in which pitch is compared."""
        return self.onset_s + SUSTAIN_FROM_S

    @property
    def median_hz(self) -> float:
        """Median pitch over the sustain."""
        first = round(SUSTAIN_FROM_S * self.sample_rate_hz)
        count = round((self.offset_s - self.onset_s) * self.sample_rate_hz)
        return float(np.median(self.f0_hz[min(first, count // 2) : count]))

    def hz_at(self, time_s: Real) -> Real:
        """Return the true pitch at these times."""
        position = (np.asarray(time_s) - self.onset_s) * self.sample_rate_hz
        return np.interp(position, np.arange(self.f0_hz.size), self.f0_hz)


@dataclass(frozen=True, slots=True)
class TrueRecording:
    """A recording and the truth about it.

    Parameters
    ----------
    reference
        What the loudspeaker was fed, if a reference sounded in the room.
    reference_hz
        Frequencies of its partials by the loudspeaker's clock.
    clock_ppm
        How much faster the reference runs than the microphone's clock says.
    """

    samples: Real
    notes: tuple[TrueNote, ...]
    sample_rate_hz: float = RATE_HZ
    reference: Real | None = None
    reference_hz: tuple[float, ...] = ()
    clock_ppm: float = 0.0
    remarks: dict[str, float] = field(default_factory=dict)


def melody(
    tones: Sequence[PlayedTone], seed: int, *, lead_s: float = 0.4, rate_hz: float = RATE_HZ
) -> TrueRecording:
    """Play tones one after the other, each tongued, with silence between as they ask for."""
    rng = np.random.default_rng(seed)
    length_s = lead_s + sum(t.duration_s + t.gap_s for t in tones) + 0.3
    samples = 1e-5 * rng.standard_normal(round(length_s * rate_hz))
    notes, at_s = [], lead_s
    for tone in tones:
        sound, f0_hz = tone_sound(tone, rng, rate_hz=rate_hz)
        first = round(at_s * rate_hz)
        samples[first : first + sound.size] += sound
        onset_s = first / rate_hz
        notes.append(TrueNote(onset_s, onset_s + tone.duration_s, f0_hz, tone, rate_hz))
        at_s += tone.duration_s + tone.gap_s
    return TrueRecording(samples, tuple(notes), rate_hz)


def slurred(
    f0s_hz: Sequence[float],
    seed: int,
    *,
    each_s: float = 0.4,
    change_s: float = 0.015,
    tone: PlayedTone,
    lead_s: float = 0.4,
) -> TrueRecording:
    """Play a legato scale: one breath, the pitch moves from note to note within ``change_s``."""
    rng = np.random.default_rng(seed)
    whole = replace(tone, duration_s=each_s * len(f0s_hz), scoop_cents=0.0)
    time_s = np.arange(round((whole.duration_s + whole.release_s) * RATE_HZ)) / RATE_HZ
    log_hz = np.full(time_s.size, np.log(f0s_hz[0]))
    for step, (before, after) in enumerate(itertools.pairwise(f0s_hz), start=1):
        place = np.clip((time_s - step * each_s) / change_s + 0.5, 0.0, 1.0)
        log_hz += np.log(after / before) * (3.0 - 2.0 * place) * place**2
    sound = _sounding(whole, np.exp(log_hz), time_s, rng, RATE_HZ)
    samples = 1e-5 * rng.standard_normal(round((lead_s + 0.5) * RATE_HZ) + sound.size)
    first = round(lead_s * RATE_HZ)
    samples[first : first + sound.size] += sound
    f0_hz = np.exp(log_hz)
    each = round(each_s * RATE_HZ)
    notes = tuple(
        TrueNote(
            lead_s + k * each_s, lead_s + (k + 1) * each_s, f0_hz[k * each : (k + 1) * each], tone
        )
        for k in range(len(f0s_hz))
    )
    return TrueRecording(samples, notes)


def tone_sound(
    tone: PlayedTone, rng: np.random.Generator, *, rate_hz: float = RATE_HZ
) -> tuple[Real, Real]:
    """Return the sound of one tongued note with its release, and its pitch at every sample."""
    time_s = np.arange(round((tone.duration_s + tone.release_s) * rate_hz)) / rate_hz
    cents = (
        tone.drift_cents_per_s * time_s
        + tone.cents_per_db * tone.swell_db * (time_s / tone.duration_s - 0.5)
        + tone.vibrato_cents * np.sin(2.0 * np.pi * (tone.vibrato_hz * time_s + rng.uniform()))
        - tone.scoop_cents * np.exp(-time_s / 0.02)
        + tone.wander_cents * _slow_waves(time_s, rng)
    )
    f0_hz = tone.f0_hz * np.exp2(cents / 1200.0)
    return _sounding(tone, f0_hz, time_s, rng, rate_hz), f0_hz


def _sounding(
    tone: PlayedTone, f0_hz: Real, time_s: Real, rng: np.random.Generator, rate_hz: float
) -> Real:
    phase = 2.0 * np.pi * np.cumsum(f0_hz) / rate_hz
    level_db = tone.level_db + tone.swell_db * (time_s / tone.duration_s - 0.5)
    if tone.cents_per_db and tone.vibrato_cents:
        level_db = level_db + 1200.0 * np.log2(f0_hz / tone.f0_hz) / tone.cents_per_db
    level = 10.0 ** (level_db / 20.0)
    sound = np.zeros(time_s.size)
    for order, partial_db in enumerate(tone.partials_db, start=1):
        if order * tone.f0_hz < 0.48 * rate_hz:
            amplitude = 10.0 ** (partial_db / 20.0)
            late = np.clip((time_s - 0.004 * (order - 1)) / tone.attack_s, 0.0, 1.0)
            sound += amplitude * late**1.5 * np.sin(order * phase + rng.uniform(0, 2 * np.pi))
    if tone.half_partial_db is not None:
        for half in (0.5, 1.5, 2.5):
            amplitude = 10.0 ** (tone.half_partial_db / 20.0)
            sound += amplitude * np.sin(half * phase + rng.uniform(0, 2 * np.pi))
    if tone.noise_db is not None:
        rms = 10.0 ** (tone.noise_db / 20.0) / np.sqrt(2.0)
        noise = breath(time_s.size, rng, about_hz=tone.f0_hz, rate_hz=rate_hz)
        chiff = 1.0 + 3.0 * np.exp(-time_s / 0.012)
        sound += rms * noise * chiff
    return sound * level * _release(tone, time_s)


def _release(tone: PlayedTone, time_s: Real) -> Real:
    return np.clip((tone.duration_s + tone.release_s - time_s) / tone.release_s, 0.0, 1.0) ** 2


def _slow_waves(time_s: Real, rng: np.random.Generator) -> Real:
    rates_hz = np.array([0.35, 0.7, 1.3, 2.1, 3.2])
    sizes = rng.standard_normal(5) / np.sqrt(2.5)
    turns = rng.uniform(size=5)
    return np.asarray(
        sum(
            s * np.sin(2 * np.pi * (r * time_s + t))
            for s, r, t in zip(sizes, rates_hz, turns, strict=True)
        )
    )


def breath(
    count: int, rng: np.random.Generator, *, about_hz: float, rate_hz: float = RATE_HZ
) -> Real:
    """Return noise of RMS 1 shaped like breath: broad, falling, with a hump around the note."""
    spectrum = np.fft.rfft(rng.standard_normal(count))
    hz = np.fft.rfftfreq(count, 1.0 / rate_hz)
    broad = 1.0 / (1.0 + (hz / 3500.0) ** 2) * hz / (hz + 150.0)
    hump = sum(
        0.8 / n / (1.0 + ((hz - n * about_hz) / (0.06 * about_hz + 25.0)) ** 2) for n in (1, 2, 3)
    )
    shaped = np.fft.irfft(spectrum * np.sqrt(broad + hump), count)
    return shaped / np.sqrt(np.mean(shaped**2))


def in_a_room(
    recording: TrueRecording, seed: int, *, reverberation_s: float, direct_db: float = 3.0
) -> TrueRecording:
    """Let a recording sound in a room: direct sound and exponentially decaying noise after it.

    Parameters
    ----------
    reverberation_s
        Time in which the sound falls by 60 dB.
    direct_db
        Energy of the direct sound over that of the reverberation.
    """
    response = room_response(
        seed, reverberation_s=reverberation_s, direct_db=direct_db, rate_hz=recording.sample_rate_hz
    )
    return replace(recording, samples=convolved(recording.samples, response))


def room_response(
    seed: int, *, reverberation_s: float, direct_db: float, rate_hz: float = RATE_HZ
) -> Real:
    """Return the impulse response of an invented room."""
    rng = np.random.default_rng(seed)
    time_s = np.arange(round(1.2 * reverberation_s * rate_hz)) / rate_hz
    tail = rng.standard_normal(time_s.size) * 10.0 ** (-3.0 * time_s / reverberation_s)
    tail[: round(0.002 * rate_hz)] = 0.0
    tail *= 10.0 ** (-direct_db / 20.0) / np.sqrt(np.sum(tail**2))
    tail[0] = 1.0
    return tail


def convolved(samples: Real, response: Real) -> Real:
    """Return the first ``samples.size`` values of the convolution."""
    size = 1 << int(np.ceil(np.log2(samples.size + response.size)))
    product = np.fft.rfft(samples, size) * np.fft.rfft(response, size)
    return np.fft.irfft(product, size)[: samples.size]


REFERENCE_PARTIALS_DB = (0.0, -8.0, -14.0, -20.0, -24.0, -29.0, -34.0, -38.0)


def with_reference(
    recording: TrueRecording,
    f0s_hz: Sequence[float],
    seed: int,
    *,
    relative_db: float,
    clock_ppm: float = 0.0,
    alone_s: float = 2.0,
    room_changes_db: float | None = None,
    level_db: float = -18.0,
) -> TrueRecording:
    """Let a steady reference sound in the room with the player, alone for the first ``alone_s``.

    Parameters
    ----------
    relative_db
        Level of the reference relative to a player whose fundamental is at ``level_db``.
    room_changes_db
        Size of a change of the room just after the reference was alone; None for no change.
    """
    rng = np.random.default_rng(seed)
    rate_hz = recording.sample_rate_hz
    alone = round(alone_s * rate_hz)
    time_s = np.arange(recording.samples.size + alone) / rate_hz
    partials = [
        (f0 * order, 10.0 ** (db / 20.0))
        for f0 in f0s_hz
        for order, db in enumerate(REFERENCE_PARTIALS_DB, start=1)
        if f0 * order < 0.4 * rate_hz
    ]
    phases = rng.uniform(0.0, 2.0 * np.pi, len(partials))

    def sounding(ratio: float) -> Real:
        return np.asarray(
            sum(
                a * np.sin(2 * np.pi * f * ratio * time_s + p)
                for (f, a), p in zip(partials, phases, strict=True)
            )
        )

    here = room_response(seed + 1, reverberation_s=0.4, direct_db=2.0)
    dry = sounding(1.0 + clock_ppm * 1e-6)
    heard = convolved(dry, here)
    if room_changes_db is not None:
        change = room_response(seed + 2, reverberation_s=0.4, direct_db=2.0)
        moved = convolved(dry, here + 10.0 ** (room_changes_db / 20.0) * change)
        place = np.clip((time_s - alone_s - 0.05) / 0.1, 0.0, 1.0)
        heard = heard + place * (moved - heard)
    gain = 10.0 ** ((level_db + relative_db) / 20.0) / (np.sqrt(np.mean(heard**2)) * np.sqrt(2.0))
    mixed = gain * heard + np.concatenate([1e-5 * rng.standard_normal(alone), recording.samples])
    later = tuple(
        replace(n, onset_s=n.onset_s + alone_s, offset_s=n.offset_s + alone_s)
        for n in recording.notes
    )
    return replace(
        recording,
        samples=mixed,
        notes=later,
        reference=0.1 * sounding(1.0),
        reference_hz=tuple(f for f, _ in partials),
        clock_ppm=clock_ppm,
    )


def with_hum(
    recording: TrueRecording, *, mains_hz: float, level_db: float, dc: float = 0.02
) -> TrueRecording:
    """Add mains hum with a few of its harmonics, and a constant."""
    time_s = np.arange(recording.samples.size) / recording.sample_rate_hz
    hum = sum(
        10.0 ** ((level_db - 6.0 * k) / 20.0) * np.sin(2 * np.pi * mains_hz * k * time_s + k)
        for k in (1, 2, 3)
    )
    return replace(recording, samples=recording.samples + hum + dc)


def with_noise(recording: TrueRecording, seed: int, *, signal_to_noise_db: float) -> TrueRecording:
    """Add white noise that far below the sounding part of the recording."""
    rng = np.random.default_rng(seed)
    sounding = recording.samples[np.abs(recording.samples) > 1e-3]
    rms = np.sqrt(np.mean(sounding**2)) * 10.0 ** (-signal_to_noise_db / 20.0)
    noise = rms * rng.standard_normal(recording.samples.size)
    return replace(recording, samples=recording.samples + noise)


def clipped(recording: TrueRecording, *, over_db: float) -> TrueRecording:
    """Drive a recording that many dB over full scale."""
    peak = np.max(np.abs(recording.samples))
    driven = recording.samples * 10.0 ** (over_db / 20.0) / peak
    return replace(recording, samples=np.clip(driven, -1.0, 1.0))


def unpitched(kind: str, seed: int, *, length_s: float = 10.0, rate_hz: float = RATE_HZ) -> Real:
    """Return sounds of a practice room that are no notes.

    Parameters
    ----------
    kind
        ``silence``, ``breath``, ``clicks``, ``murmur`` (noise through moving vocal-tract
        resonances in syllables) or ``pages``.
    """
    rng = np.random.default_rng(seed)
    count = round(length_s * rate_hz)
    return 1e-5 * rng.standard_normal(count) + _UNPITCHED[kind](count, rng, rate_hz)


def _silence(count: int, rng: np.random.Generator, rate_hz: float) -> Real:
    return np.zeros(count)


def _breathing(count: int, rng: np.random.Generator, rate_hz: float) -> Real:
    time_s = np.arange(count) / rate_hz
    swell = 0.5 - 0.5 * np.cos(2 * np.pi * 0.4 * time_s)
    return 0.05 * swell * breath(count, rng, about_hz=rng.uniform(400, 1200), rate_hz=rate_hz)


def _clicks(count: int, rng: np.random.Generator, rate_hz: float) -> Real:
    sound = np.zeros(count)
    for first in rng.integers(0, count - round(0.2 * rate_hz), size=round(3 * count / rate_hz)):
        time_s = np.arange(round(0.15 * rate_hz)) / rate_hz
        for _ in range(3):
            decay_s, hz = rng.uniform(0.002, 0.015), rng.uniform(400, 4000)
            ring = np.exp(-time_s / decay_s) * np.sin(2 * np.pi * hz * time_s)
            sound[first : first + time_s.size] += rng.uniform(0.05, 0.3) * ring
    return sound


def _murmur(count: int, rng: np.random.Generator, rate_hz: float) -> Real:
    sound, at = np.zeros(count), 0
    while at < count:
        length = round(rng.uniform(0.08, 0.3) * rate_hz)
        spectrum = np.fft.rfft(rng.standard_normal(length))
        hz = np.fft.rfftfreq(length, 1.0 / rate_hz)
        shape = sum(
            1.0 / (1.0 + ((hz - centre) / width) ** 2)
            for centre, width in (
                (rng.uniform(250, 800), 60.0),
                (rng.uniform(900, 2300), 90.0),
                (rng.uniform(2300, 3500), 120.0),
            )
        )
        syllable = np.fft.irfft(spectrum * shape, length) * np.hanning(length)
        syllable *= 0.1 / (np.max(np.abs(syllable)) + 1e-12)
        end = min(at + length, count)
        sound[at:end] += syllable[: end - at]
        at += length + round(rng.uniform(0.0, 0.2) * rate_hz)
    return sound


def _pages(count: int, rng: np.random.Generator, rate_hz: float) -> Real:
    sound = np.zeros(count)
    for first in rng.integers(
        0, count - round(0.6 * rate_hz), size=max(1, round(count / rate_hz / 2))
    ):
        length = round(rng.uniform(0.2, 0.5) * rate_hz)
        crackle = np.abs(rng.standard_normal(length)) ** 3 * rng.standard_normal(length)
        body = np.convolve(crackle, np.ones(8) / 8, mode="same") * np.hanning(length)
        sound[first : first + length] += 0.05 * body
    return sound


_UNPITCHED: dict[str, Callable[[int, np.random.Generator, float], Real]] = {
    "silence": _silence,
    "breath": _breathing,
    "clicks": _clicks,
    "murmur": _murmur,
    "pages": _pages,
}
UNPITCHED_KINDS = tuple(_UNPITCHED)
