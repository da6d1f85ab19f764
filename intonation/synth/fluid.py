"""FluidSynth as a reference: through our own sub-cent SoundFont, or through the player's."""

import math
from collections import deque

import numpy as np
from numpy.typing import NDArray

from intonation.pitch.cents import cents_between
from intonation.synth.fluid_library import CHANNELS, FluidLibrary, Strike
from intonation.synth.levels import balanced_gains
from intonation.synth.loudness import Loudness
from intonation.synth.ramps import LONG_SILENCE_S, SOFT_START_S, Ramp
from intonation.synth.soundfont_tones import SAMPLE_PEAK, FontPitch, LoopedTone, tone_and_pitch
from intonation.synth.sounds import PlayersFont
from intonation.synth.tones import SoundingPartial, Tone, check_tones
from intonation.synth.voices import VOICES, voice_named

BLOCK_SAMPLES = 1024


class FluidSynth:
    """Sounds tones through FluidSynth; used like `intonation.synth.wavetable.Synth`.

    Through our own SoundFont every tone is within 0.005 cents of what was asked. The player's own
    SoundFonts are tuned in whole cents and as well as they were made: measure them first, see
    `intonation.synth.soundfont_check`.

    Parameters
    ----------
    sample_rate_hz
        Rate of the samples it renders.
    font
        A SoundFont of the player's; None for our own.

    Raises
    ------
    SetupError
        If the FluidSynth library is missing.
    DataFileError
        If the player's SoundFont cannot be used.
    """

    def __init__(self, sample_rate_hz: float, *, font: PlayersFont | None = None) -> None:
        self.sample_rate_hz = sample_rate_hz
        self._font = font
        self._library = FluidLibrary(sample_rate_hz)
        self._font_number = self._library.load(font)
        self._asked: tuple[Strike, ...] = ()
        self._request: tuple[Strike, ...] | None = None
        self._sounding: dict[Strike, int] = {}
        self._until_again: dict[Strike, int] = {}
        self._free = deque(range(CHANNELS))
        self._loudness = Loudness(sample_rate_hz=sample_rate_hz, block_samples=BLOCK_SAMPLES)
        self._mix = np.zeros(BLOCK_SAMPLES, dtype=np.float32)
        self._soft_start = Ramp(SOFT_START_S, sample_rate_hz=sample_rate_hz)
        self._long_silence_samples = round(LONG_SILENCE_S * sample_rate_hz)
        self._silent_samples = self._long_silence_samples
        self._level = 1.0 if font is not None else self._measured_level()

    @property
    def gain(self) -> float:
        """The loudness asked for, as a factor."""
        return self._loudness.gain

    @property
    def silent(self) -> bool:
        """Whether nothing sounds and nothing is about to."""
        return not (self._request or self._sounding or self._library.voices_sounding())

    def set_tones(self, tones: tuple[Tone, ...]) -> None:
        """Sound these tones and no others; a tone that sounds already goes on.

        Raises
        ------
        SettingsError
            If a voice is unknown, a frequency cannot be sounded or there are too many tones.
        """
        self.sound(self.prepared(tones))

    def prepared(self, tones: tuple[Tone, ...]) -> tuple[Strike, ...]:
        """Return these tones ready to sound; see `set_tones`."""
        check_tones(tones)
        if self._font is None:
            return self._own_strikes(tones)
        return self._players_strikes(tones, self._font)

    def sound(self, chord: tuple[Strike, ...]) -> None:
        """Sound prepared tones and no others."""
        self._asked = chord
        self._request = chord

    def set_loudness(self, loudness_db: float) -> None:
        """Set the level of everything, in dB; 0 is the loudest there is, −60 the quietest."""
        self._loudness.ask(loudness_db)

    def partials(self) -> tuple[SoundingPartial, ...]:
        """Return every sinusoid of the tones last asked for; of a player's font none is known."""
        return self.partials_of(self._asked)

    def partials_of(self, chord: tuple[Strike, ...]) -> tuple[SoundingPartial, ...]:
        """Return every sinusoid of a prepared chord at the loudness asked for."""
        return tuple(
            SoundingPartial(
                partial.hz, partial.level_db + self._loudness.loudness_db, partial.steady
            )
            for strike in chord
            for partial in strike.partials
        )

    def render(self, frames: int) -> NDArray[np.float32]:
        """Return the next samples, float32, shape (frames,)."""
        samples = np.empty(frames, dtype=np.float32)
        self.render_into(samples)
        return samples

    def render_into(self, out: NDArray[np.float32]) -> None:
        """Write the next samples into ``out`` (one-dimensional)."""
        done = 0
        while done < out.size:
            self._loudness.follow(sounding=bool(self._sounding))
            if self._request is not None:
                strikes, self._request = self._request, None
                self._change_to(strikes)
            self._strike_again()
            until_again = min(self._until_again.values(), default=BLOCK_SAMPLES)
            until_change = min(
                self._loudness.samples_left, self._soft_start.samples_left, until_again
            )
            count = min(BLOCK_SAMPLES, out.size - done, until_change)
            mix = self._mix[:count]
            self._library.write(mix)
            if self._soft_start.running:
                mix *= self._soft_start.take(count)
            self._silent_samples = 0 if self._sounding else self._silent_samples + count
            self._loudness.apply(mix, out[done : done + count])
            for strike in self._until_again:
                self._until_again[strike] -= count
            done += count

    def close(self) -> None:
        """Let the library go; nothing can be rendered any more."""
        self._library.close()

    def _change_to(self, strikes: tuple[Strike, ...]) -> None:
        if strikes and self._silent_samples >= self._long_silence_samples:
            self._soft_start.start()
        for strike in [old for old in self._sounding if old not in strikes]:
            channel = self._sounding.pop(strike)
            self._until_again.pop(strike, None)
            self._library.note_off(channel, strike.key)
            self._free.append(channel)
        for strike in strikes:
            if strike not in self._sounding:
                channel = self._free.popleft()
                self._sounding[strike] = channel
                self._strike(strike, channel)

    def _strike(self, strike: Strike, channel: int) -> None:
        self._library.note_on(channel, self._font_number, strike)
        if strike.again_every_s is not None:
            self._until_again[strike] = round(strike.again_every_s * self.sample_rate_hz)

    def _strike_again(self) -> None:
        for strike, left in self._until_again.items():
            if left <= 0:
                channel = self._sounding[strike]
                self._library.note_off(channel, strike.key)
                self._strike(strike, channel)

    def _own_strikes(self, tones: tuple[Tone, ...]) -> tuple[Strike, ...]:
        sources = [tone_and_pitch(voice_named(tone.voice), tone.hz) for tone in tones]
        crests = [source.table.peak for source, _ in sources]
        gains = balanced_gains([tone.level_db for tone in tones], crests)
        return tuple(
            _own_strike(source, pitch, gain=gain, level=self._level)
            for (source, pitch), gain in zip(sources, gains, strict=True)
        )

    def _players_strikes(self, tones: tuple[Tone, ...], font: PlayersFont) -> tuple[Strike, ...]:
        tunings = [round(6900.0 + cents_between(tone.hz, target_hz=440.0)) for tone in tones]
        return tuple(
            Strike(
                key=min(127, (cents + 50) // 100),
                tuning_cents=cents,
                bank=font.bank,
                program=font.program,
                attenuation_db=max(0.0, -tone.level_db),
            )
            for tone, cents in zip(tones, tunings, strict=True)
        )

    def _measured_level(self) -> float:
        """Return the library's amplitude for a sample of full scale, by sounding one."""
        source, pitch = tone_and_pitch(VOICES["principal"], 440.0)
        strike = Strike(pitch.key, pitch.tuning_cents, pitch.bank, program=0)
        self._library.note_on(0, self._font_number, strike)
        beginning = np.zeros(round(0.2 * self.sample_rate_hz), np.float32)
        steady = np.zeros(4 * BLOCK_SAMPLES, np.float32)
        self._library.write(beginning)
        self._library.write(steady)
        self._library.all_off(0)
        return float(np.std(steady)) * source.table.peak / SAMPLE_PEAK


def _own_strike(source: LoopedTone, pitch: FontPitch, *, gain: float, level: float) -> Strike:
    sample_level = level * SAMPLE_PEAK / source.table.peak
    partials = (
        SoundingPartial(
            hz=pitch.hz * (number + 1),
            level_db=level_db + 20.0 * math.log10(gain),
            steady=source.voice.plucked_every_s is None,
        )
        for number, level_db in enumerate(source.table.partial_levels_db)
    )
    return Strike(
        key=pitch.key,
        tuning_cents=pitch.tuning_cents,
        bank=pitch.bank,
        program=tuple(VOICES).index(source.voice.name),
        attenuation_db=20.0 * math.log10(sample_level / gain),
        partials=tuple(partials),
        again_every_s=source.voice.plucked_every_s,
    )
