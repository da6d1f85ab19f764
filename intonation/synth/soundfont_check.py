"""Measures how well a player's SoundFont is in tune before it may serve as a reference."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.language import say
from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz
from intonation.synth.fluid import FluidSynth
from intonation.synth.sounds import PlayersFont
from intonation.synth.tones import Tone

CHECKED_MIDI = tuple(range(48, 85, 3))
"""From C3 to C6 in minor thirds: what a drone or a backing chord is made of."""

SAMPLE_RATE_HZ = 48_000
_SETTLE_S, _LISTEN_S, _WINDOW_S, _HOP_S = 0.3, 2.0, 0.25, 0.05
_SILENT = 1e-4
_SEARCH_CENTS = 60.0


@dataclass(frozen=True, slots=True)
class FontNote:
    """How one note of a SoundFont sounds.

    Parameters
    ----------
    midi
        The note that was struck.
    error_cents
        Its median pitch against equal temperament at A4 = 440 Hz.
    wobble_cents
        Half the width of the range in which its pitch stays for nine tenths of the time.
    """

    midi: int
    error_cents: float
    wobble_cents: float


@dataclass(frozen=True, slots=True)
class FontReport:
    """How well a preset is in tune, note by note; notes that do not last are left out."""

    font: PlayersFont
    notes: tuple[FontNote, ...]

    @property
    def worst_cents(self) -> float:
        """Largest error of any note, without its sign; infinite if no note lasts."""
        return max((abs(note.error_cents) for note in self.notes), default=np.inf)

    @property
    def wobble_cents(self) -> float:
        """Largest wobble of any note."""
        return max((note.wobble_cents for note in self.notes), default=np.inf)

    @property
    def sentence(self) -> str:
        """What the player should know."""
        name = self.font.path.name
        if not self.notes:
            return say("No note of {name} lasts long enough to tune to.", name=name)
        return say(
            "{name} is up to {worst_cents:.1f} cents off and wobbles by "
            "±{wobble_cents:.1f} cents: pleasant as backing, not a reference to tune to.",
            name=name,
            worst_cents=self.worst_cents,
            wobble_cents=self.wobble_cents,
        )


def unwatched(_: float) -> None:
    """Take no notice of progress."""


def check_font(
    font: PlayersFont,
    *,
    notes_midi: Sequence[int] = CHECKED_MIDI,
    progress: Callable[[float], None] = unwatched,
) -> FontReport:
    """Sound notes of a preset and measure them.

    Parameters
    ----------
    font
        The SoundFont and its preset.
    notes_midi
        Which notes.
    progress
        Called with the share that is done; an exception from it cancels.

    Raises
    ------
    SetupError
        If the FluidSynth library is missing.
    DataFileError
        If the SoundFont cannot be used.
    """
    synth = FluidSynth(SAMPLE_RATE_HZ, font=font)
    notes: list[FontNote | None] = []
    try:
        for number, midi in enumerate(notes_midi):
            progress(number / len(notes_midi))
            notes.append(_measured(synth, midi))
    finally:
        synth.close()
    return FontReport(font, tuple(note for note in notes if note is not None))


def _measured(synth: FluidSynth, midi: int) -> FontNote | None:
    asked_hz = equal_tempered_hz(midi, a4_hz=440.0)
    synth.set_tones((Tone(asked_hz),))
    synth.render(round(_SETTLE_S * SAMPLE_RATE_HZ))
    samples = synth.render(round(_LISTEN_S * SAMPLE_RATE_HZ)).astype(float)
    synth.set_tones(())
    synth.render(SAMPLE_RATE_HZ // 2)
    if np.std(samples[-SAMPLE_RATE_HZ // 4 :]) < _SILENT:
        return None
    near_hz = _strongest_near(samples, asked_hz)
    track_cents = _pitch_track_cents(samples, around_hz=near_hz)
    error_cents = float(np.median(track_cents)) + cents_between(near_hz, target_hz=asked_hz)
    lowest, highest = np.percentile(track_cents, (5.0, 95.0))
    return FontNote(midi, error_cents, float(highest - lowest) / 2.0)


def _strongest_near(samples: NDArray[np.float64], hz: float) -> float:
    """Return the frequency of the strongest component within 60 cents, to the nearest bin."""
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(samples.size), 4 * samples.size))
    frequencies_hz = np.fft.rfftfreq(4 * samples.size, 1.0 / SAMPLE_RATE_HZ)
    spread = 2.0 ** (_SEARCH_CENTS / 1200.0)
    near = (frequencies_hz > hz / spread) & (frequencies_hz < hz * spread)
    return float(frequencies_hz[near][np.argmax(spectrum[near])])


def _pitch_track_cents(samples: NDArray[np.float64], *, around_hz: float) -> NDArray[np.float64]:
    """Return the pitch of the fundamental over time, in cents from ``around_hz``.

    The fundamental is shifted to zero frequency and smoothed; the slope of its phase is the rest.
    """
    time_s = np.arange(samples.size) / SAMPLE_RATE_HZ
    window = np.blackman(round(_WINDOW_S * SAMPLE_RATE_HZ))
    hop = round(_HOP_S * SAMPLE_RATE_HZ)
    shifted = samples * np.exp(-2j * np.pi * around_hz * time_s)
    starts = range(0, samples.size - window.size, hop)
    phasors = np.array([window @ shifted[start : start + window.size] for start in starts])
    turns = np.angle(phasors[1:] * np.conj(phasors[:-1])) / (2.0 * np.pi)
    cents: NDArray[np.float64] = 1200.0 * np.log2(1.0 + turns / _HOP_S / around_hz)
    return cents
