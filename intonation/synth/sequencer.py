"""Plays prepared changes of tones, and prepared sounds, each from its exact sample on."""

from collections.abc import Sequence
from typing import Generic, Protocol, TypeVar

import numpy as np
from numpy.typing import NDArray

from intonation.synth.loudness import CEILING
from intonation.synth.tones import SoundingPartial, Tone

Prepared = TypeVar("Prepared")

_REPLACED_FADE_SAMPLES = 1920


class SoundsChords(Protocol[Prepared]):
    """What both synthesisers offer: preparing a chord, which takes time, apart from sounding it."""

    sample_rate_hz: float

    @property
    def gain(self) -> float:
        """The loudness asked for, as a factor."""
        ...

    @property
    def silent(self) -> bool:
        """Whether nothing sounds and nothing is about to."""
        ...

    def prepared(self, tones: tuple[Tone, ...]) -> Prepared:
        """Return these tones ready to sound once."""
        ...

    def sound(self, chord: Prepared) -> None:
        """Sound a prepared chord and nothing else, from the next sample on."""
        ...

    def partials_of(self, chord: Prepared) -> tuple[SoundingPartial, ...]:
        """Return every sinusoid of a prepared chord at the loudness asked for."""
        ...

    def set_loudness(self, loudness_db: float) -> None:
        """Set the level of everything."""
        ...

    def render_into(self, out: NDArray[np.float32]) -> None:
        """Write the next samples."""
        ...

    def close(self) -> None:
        """Let go of what it uses; nothing can be rendered any more."""
        ...


class Sequencer(Generic[Prepared]):
    """Stands between a synthesiser and the output; one thread asks, another renders.

    Whatever is asked last counts: tones at once, or a row of changes.

    Parameters
    ----------
    synth
        What sounds the chords.
    """

    def __init__(self, synth: SoundsChords[Prepared]) -> None:
        self._synth = synth
        self._asked = synth.prepared(())
        self._program: list[tuple[int, Prepared]] = []
        self._request: list[tuple[int, Prepared]] | None = None
        self._position = 0
        self._clip: NDArray[np.float32] | None = None
        self._clip_at = 0

    @property
    def playing_clip(self) -> bool:
        """Whether a prepared sound still sounds."""
        clip = self._clip
        return clip is not None and self._clip_at < clip.size

    @property
    def sample_rate_hz(self) -> float:
        """Rate of the samples it renders."""
        return self._synth.sample_rate_hz

    @property
    def silent(self) -> bool:
        """Whether nothing sounds and nothing is about to."""
        return not (self._request or self._program or self.playing_clip) and self._synth.silent

    def set_tones(self, tones: tuple[Tone, ...]) -> None:
        """Sound these tones and no others, from the next sample on.

        Raises
        ------
        SettingsError
            If they cannot be sounded.
        """
        self._asked = self._synth.prepared(tones)
        self._request = [(0, self._asked)]

    def set_loudness(self, loudness_db: float) -> None:
        """Set the level of everything, in dB; 0 is the loudest there is, −60 the quietest."""
        self._synth.set_loudness(loudness_db)

    def partials(self) -> tuple[SoundingPartial, ...]:
        """Return every sinusoid of the tones last set."""
        return self._synth.partials_of(self._asked)

    def start(self, changes: Sequence[tuple[float, tuple[Tone, ...]]]) -> None:
        """Sound tones one after another, counted from the next sample on.

        Parameters
        ----------
        changes
            When (in seconds, ascending) which tones begin to sound; no tones for silence.

        Raises
        ------
        SettingsError
            If a tone cannot be sounded.
        """
        self._request = [
            (round(at_s * self._synth.sample_rate_hz), self._synth.prepared(tones))
            for at_s, tones in changes
        ]

    def stop(self) -> None:
        """Forget the changes that have not come yet, and sound nothing."""
        self.set_tones(())
        self._clip = None

    def play(self, samples: NDArray[np.float32]) -> None:
        """Add a prepared sound, at the loudness asked for, from the next sample on.

        One that still sounds is faded out under it.
        """
        clip = np.asarray(samples * self._synth.gain, dtype=np.float32)
        if self._clip is not None and self.playing_clip:
            clip = _faded_into(clip, self._clip[self._clip_at :])
        self._clip_at = 0
        self._clip = clip

    def render(self, frames: int) -> NDArray[np.float32]:
        """Return the next samples, float32, shape (frames,)."""
        samples = np.empty(frames, dtype=np.float32)
        self.render_into(samples)
        return samples

    def render_into(self, out: NDArray[np.float32]) -> None:
        """Write the next samples into ``out`` (one-dimensional)."""
        if self._request is not None:
            self._program, self._request = self._request, None
            self._position = 0
        done = 0
        while done < out.size:
            while self._program and self._program[0][0] <= self._position:
                self._synth.sound(self._program.pop(0)[1])
            until_change = self._program[0][0] - self._position if self._program else out.size
            count = min(out.size - done, until_change)
            self._synth.render_into(out[done : done + count])
            done += count
            self._position += count
        if self._clip is not None:
            self._add_clip(self._clip, out)

    def close(self) -> None:
        """Let the synthesiser go; nothing can be rendered any more."""
        self._synth.close()

    def _add_clip(self, clip: NDArray[np.float32], out: NDArray[np.float32]) -> None:
        part = clip[self._clip_at : self._clip_at + out.size]
        out[: part.size] += part
        self._clip_at += out.size
        np.clip(out, -CEILING, CEILING, out=out)


def _faded_into(clip: NDArray[np.float32], rest: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return a clip with the first moment of another one, which fades out, over its beginning."""
    fade = rest[:_REPLACED_FADE_SAMPLES]
    both = np.zeros(max(clip.size, fade.size), dtype=np.float32)
    both[: clip.size] = clip
    both[: fade.size] += fade * np.linspace(1.0, 0.0, fade.size, dtype=np.float32)
    return both
