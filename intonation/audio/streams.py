"""The sound card: one stream in and one stream out, whose callbacks copy, count and return.

Two streams, never a single two-way one: a two-way start has been seen to play whatever was left in
memory at full scale. Inside a callback nothing waits, prints, allocates or raises, because a late
callback is a click in the player's ears.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from intonation.audio.devices import SoundDevice, portaudio
from intonation.audio.ring import SampleRing
from intonation.audio.sources import Samples
from intonation.errors import SetupError
from intonation.language import say

SAMPLE_RATE_HZ = 48_000.0
BLOCK_FRAMES = 512
SETTLING_S = 0.5
"""Input that is thrown away at the start: converters settle, and other sounds still fade."""

STALL_S = 0.25
"""A stream that is silent for longer has faltered: what was heard has a hole in it."""

DEAD_S = 2.0
"""A stream that is silent for longer will not come back by itself."""

SHORTEST_LATENCY_S = 0.1
"""A drone has time. A tenth of a second of sound in store outlasts what a busy machine costs."""

_RING_S = 6.0
_LARGEST_BLOCK = 8_192


@dataclass(frozen=True, slots=True)
class StreamCount:
    """What a callback has counted.

    Parameters
    ----------
    blocks
        Times it was called.
    gaps
        Times the sound card reported lost samples (an overflow, or an underflow).
    dropped_samples
        Samples that we had no room for.
    """

    blocks: int
    gaps: int
    dropped_samples: int = 0


class MicrophoneStream:
    """A microphone as a source of samples.

    Parameters
    ----------
    device
        The microphone.
    """

    def __init__(self, device: SoundDevice) -> None:
        self.device = device
        self.ended = False
        self._blocks = 0
        self._overflows = 0
        library = portaudio()
        self.sample_rate_hz = _usable_rate_hz(library.check_input_settings, device)
        self._ring = SampleRing(round(_RING_S * self.sample_rate_hz))
        self._settling = round(SETTLING_S * self.sample_rate_hz)
        self._stream = _opened(library.InputStream, device, self.sample_rate_hz, self, channels=1)

    @property
    def exhausted(self) -> bool:
        """Whether the stream has ended: nothing more will come."""
        return self.ended

    @property
    def latency_s(self) -> float:
        """Age of the newest sample when it arrives, as the system reports it."""
        return float(self._stream.latency)

    @property
    def received_samples(self) -> int:
        """Samples received so far, those at the start included."""
        return self._ring.written_samples

    @property
    def count(self) -> StreamCount:
        """What the callback has counted so far."""
        return StreamCount(self._blocks, self._overflows, self._ring.dropped_samples)

    def start(self) -> None:
        """Begin to listen."""
        _started(self._stream, self.device)

    def read(self, frames: int) -> Samples:
        """Return at most ``frames`` samples that have arrived, after the settling time."""
        while self._settling and self._ring.waiting:
            self._settling -= self._ring.read(self._settling).size
        return self._ring.read(frames)

    def forget(self) -> None:
        """Throw away what has arrived and was not read."""
        self.read(self._ring.waiting)

    def close(self) -> None:
        """Stop listening."""
        _closed(self._stream)

    def __call__(self, block: NDArray[np.float32], _frames: int, _time: Any, flags: Any) -> None:
        """Take one block in (called from the sound card's thread)."""
        self._ring.write(block[:, 0])
        self._blocks += 1
        if flags:
            self._overflows += 1

    def end(self) -> None:
        """Note that the stream has ended (called from the sound card's thread)."""
        self.ended = True


class OutputStream:
    """A loudspeaker or headphones.

    Parameters
    ----------
    device
        The output.
    """

    def __init__(self, device: SoundDevice) -> None:
        self.device = device
        self.ended = False
        self._blocks = 0
        self._underflows = 0
        self._failures = 0
        self._mono = np.zeros(_LARGEST_BLOCK, dtype=np.float32)
        self._render_into: Callable[[NDArray[np.float32]], None] | None = None
        library = portaudio()
        channels = min(2, device.output_channels)
        self.sample_rate_hz = _usable_rate_hz(library.check_output_settings, device)
        self._stream = _opened(
            library.OutputStream, device, self.sample_rate_hz, self, channels=channels
        )

    @property
    def latency_s(self) -> float:
        """Time until a rendered sample is heard, as the system reports it."""
        return float(self._stream.latency)

    @property
    def count(self) -> StreamCount:
        """What the callback has counted so far; a block that failed to render is a gap."""
        return StreamCount(self._blocks, self._underflows + self._failures)

    def start(self, render_into: Callable[[NDArray[np.float32]], None]) -> None:
        """Begin to play what ``render_into`` writes into the block it is given."""
        self._render_into = render_into
        _started(self._stream, self.device)

    def close(self) -> None:
        """Play what is on its way and stop."""
        if not self.ended:
            self._stream.stop(ignore_errors=True)
        _closed(self._stream)

    def __call__(self, block: NDArray[np.float32], frames: int, _time: Any, flags: Any) -> None:
        """Fill one block (called from the sound card's thread)."""
        mono = self._mono[:frames]
        try:
            assert self._render_into is not None
            self._render_into(mono)
        except Exception:
            # raised further it would end the stream: play silence and count it instead
            mono.fill(0.0)
            self._failures += 1
        np.copyto(block, mono[:, np.newaxis])
        self._blocks += 1
        # the first block may be late through no fault of anyone: nothing was playing
        if flags and self._blocks > 1:
            self._underflows += 1

    def end(self) -> None:
        """Note that the stream has ended (called from the sound card's thread)."""
        self.ended = True


class StallWatch:
    """Tells for how long a count has stood still."""

    def __init__(self) -> None:
        self._last_count = -1
        self._grew_at_s = 0.0

    def standing_s(self, count: int, *, now_s: float) -> float:
        """Return the seconds since the count last grew, as far as it was asked for."""
        if count != self._last_count:
            self._last_count, self._grew_at_s = count, now_s
        return now_s - self._grew_at_s


def _usable_rate_hz(check: Callable[..., None], device: SoundDevice) -> float:
    library = portaudio()
    try:
        check(device=device.index, samplerate=SAMPLE_RATE_HZ, dtype="float32", channels=1)
    except library.PortAudioError:
        return float(library.query_devices(device.index)["default_samplerate"])
    return SAMPLE_RATE_HZ


def _opened(
    kind: Callable[..., Any],
    device: SoundDevice,
    sample_rate_hz: float,
    stream: MicrophoneStream | OutputStream,
    *,
    channels: int,
) -> Any:
    direction = "input" if isinstance(stream, MicrophoneStream) else "output"
    usual_latency_s = portaudio().query_devices(device.index)[f"default_high_{direction}_latency"]
    try:
        return kind(
            device=device.index,
            samplerate=sample_rate_hz,
            blocksize=BLOCK_FRAMES,
            latency=max(SHORTEST_LATENCY_S, usual_latency_s),
            dtype="float32",
            channels=channels,
            callback=stream,
            finished_callback=stream.end,
        )
    except portaudio().PortAudioError as cause:
        raise _refused(device) from cause


def _started(stream: Any, device: SoundDevice) -> None:
    try:
        stream.start()
    except portaudio().PortAudioError as cause:
        raise _refused(device) from cause


def _closed(stream: Any) -> None:
    stream.close(ignore_errors=True)


def _refused(device: SoundDevice) -> SetupError:
    return SetupError(
        say('"{device}" cannot be used now.', device=device.name),
        say(
            "Close other programs that use it, check that this program may use the microphone, "
            "or choose another device."
        ),
    )
