"""The built-in reference: wavetable oscillators, exact in pitch, mixed under a hard ceiling."""

import math

import numpy as np
from numpy.typing import NDArray

from intonation.pitch.cents import cents_between
from intonation.synth.levels import balanced_gains
from intonation.synth.loudness import Loudness
from intonation.synth.oscillator import BLOCK_SAMPLES, Oscillator, Workspace
from intonation.synth.ramps import LONG_SILENCE_S, SOFT_START_S, Ramp
from intonation.synth.tones import SoundingPartial, Tone, check_tones

FADE_S = 0.05
_SAME_NOTE_CENTS = 60.0

Chord = tuple[Oscillator, ...]


class Synth:
    """Sounds tones until told otherwise; one thread asks, one thread renders, neither waits.

    Changes are never abrupt: another set of tones is faded over in 50 ms (0.2 s after a silence),
    and a tone close to one that sounds (under 60 cents) goes on from its phase and glides.

    Parameters
    ----------
    sample_rate_hz
        Rate of the samples it renders.
    """

    def __init__(self, sample_rate_hz: float) -> None:
        self.sample_rate_hz = sample_rate_hz
        self._asked: Chord = ()
        self._request: Chord | None = None
        self._now: Chord = ()
        self._next: Chord = ()
        self._loudness = Loudness(sample_rate_hz=sample_rate_hz, block_samples=BLOCK_SAMPLES)
        self._silent_samples = round(LONG_SILENCE_S * sample_rate_hz)
        self._long_silence_samples = self._silent_samples
        self._fade = Ramp(FADE_S, sample_rate_hz=sample_rate_hz)
        self._soft_start = Ramp(SOFT_START_S, sample_rate_hz=sample_rate_hz)
        self._crossfade = self._fade
        self._workspace = Workspace()
        self._mix = np.zeros(BLOCK_SAMPLES, dtype=np.float32)
        self._mix_next = np.zeros(BLOCK_SAMPLES, dtype=np.float32)
        self._curve = np.zeros(BLOCK_SAMPLES, dtype=np.float32)

    @property
    def gain(self) -> float:
        """The loudness asked for, as a factor."""
        return self._loudness.gain

    @property
    def silent(self) -> bool:
        """Whether nothing sounds and nothing is about to."""
        return not (self._now or self._next or self._request)

    def set_tones(self, tones: tuple[Tone, ...]) -> None:
        """Sound these tones and no others, from the next sample on.

        Raises
        ------
        SettingsError
            If a voice is unknown, a frequency cannot be sounded or there are too many tones.
        """
        self.sound(self.prepared(tones))

    def prepared(self, tones: tuple[Tone, ...]) -> Chord:
        """Return these tones ready to sound once; see `set_tones`."""
        check_tones(tones)
        chord = tuple(Oscillator(tone, sample_rate_hz=self.sample_rate_hz) for tone in tones)
        _balance(chord)
        return chord

    def sound(self, chord: Chord) -> None:
        """Sound a prepared chord and nothing else, from the next sample on."""
        self._asked = chord
        self._request = chord

    def set_loudness(self, loudness_db: float) -> None:
        """Set the level of everything, in dB; 0 is the loudest there is, −60 the quietest.

        Raises
        ------
        SettingsError
            If it is not a number.
        """
        self._loudness.ask(loudness_db)

    def partials(self) -> tuple[SoundingPartial, ...]:
        """Return every sinusoid of the tones last asked for, in the order of the tones."""
        return self.partials_of(self._asked)

    def partials_of(self, chord: Chord) -> tuple[SoundingPartial, ...]:
        """Return every sinusoid of a prepared chord at the loudness asked for."""
        return tuple(
            SoundingPartial(
                hz=oscillator.tone.hz * (number + 1),
                level_db=level_db + 20.0 * math.log10(oscillator.gain) + self._loudness.loudness_db,
                steady=oscillator.voice.plucked_every_s is None,
            )
            for oscillator in chord
            for number, level_db in enumerate(oscillator.table.partial_levels_db)
        )

    def render(self, frames: int) -> NDArray[np.float32]:
        """Return the next samples, float32, shape (frames,)."""
        samples = np.empty(frames, dtype=np.float32)
        self.render_into(samples)
        return samples

    def render_into(self, out: NDArray[np.float32]) -> None:
        """Write the next samples into ``out`` (one-dimensional) without allocating any."""
        done = 0
        while done < out.size:
            self._begin_what_was_asked()
            count = min(
                BLOCK_SAMPLES,
                out.size - done,
                self._crossfade.samples_left,
                self._loudness.samples_left,
            )
            self._render_stretch(out[done : done + count])
            done += count

    def close(self) -> None:
        """Do nothing: there is no library to let go."""

    def _begin_what_was_asked(self) -> None:
        # A change that comes during a fade waits for its end: two chords are the most that
        # ever sound, which is what keeps their sum under the ceiling.
        self._loudness.follow(sounding=bool(self._now or self._next))
        if self._request is not None and not self._crossfade.running:
            chord, self._request = self._request, None
            self._begin_crossfade(chord)

    def _begin_crossfade(self, chord: Chord) -> None:
        rested = not self._now and self._silent_samples >= self._long_silence_samples
        self._crossfade = self._soft_start if rested else self._fade
        for fresh in chord:
            nearest = min(self._now, key=lambda old: _distance_cents(old, fresh), default=None)
            if nearest is not None and _distance_cents(nearest, fresh) <= _SAME_NOTE_CENTS:
                fresh.take_over_from(nearest, glide_samples=self._crossfade.length)
        self._next = chord
        if self._now or chord:
            self._crossfade.start()

    def _render_stretch(self, out: NDArray[np.float32]) -> None:
        mix = self._mix[: out.size]
        self._add_up(self._now, mix)
        if self._crossfade.running:
            self._cross(mix)
        self._silent_samples = 0 if self._now else self._silent_samples + out.size
        self._loudness.apply(mix, out)

    def _add_up(self, chord: Chord, mix: NDArray[np.float32]) -> None:
        mix.fill(0.0)
        for oscillator in chord:
            oscillator.add_to(mix, self._workspace)

    def _cross(self, mix: NDArray[np.float32]) -> None:
        other, curve = self._mix_next[: mix.size], self._curve[: mix.size]
        self._add_up(self._next, other)
        np.copyto(curve, self._crossfade.take(mix.size))
        other -= mix
        other *= curve
        mix += other
        if not self._crossfade.running:
            self._now, self._next = self._next, ()
            for oscillator in self._now:
                oscillator.arrive()


def _balance(chord: Chord) -> None:
    levels_db = [oscillator.tone.level_db for oscillator in chord]
    crests = [oscillator.table.peak for oscillator in chord]
    for oscillator, gain in zip(chord, balanced_gains(levels_db, crests), strict=True):
        oscillator.gain = gain


def _distance_cents(one: Oscillator, other: Oscillator) -> float:
    return abs(cents_between(one.tone.hz, target_hz=other.tone.hz))
