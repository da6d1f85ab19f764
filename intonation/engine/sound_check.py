"""A sound check in three seconds: what the microphone hears, and whether it hears the reference."""

import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.audio.devices import choose_device, sound_devices
from intonation.audio.probe import (
    CHIRP_S,
    PAUSE_S,
    TONE_S,
    ProbeReturn,
    probe_return,
    probe_signal,
)
from intonation.audio.streams import SETTLING_S, MicrophoneStream, OutputStream
from intonation.engine.messages import SoundSettings
from intonation.errors import SetupError
from intonation.language import say

SILENCE_S = 1.0
LONGEST_DELAY_S = 1.0
CLOCK_LIMIT_PPM = 300.0
"""Two sound clocks differ by less; more means that samples are lost or invented on the way."""

_POLL_S = 0.01
_GIVE_UP_S = 2.0


@dataclass(frozen=True, slots=True)
class SoundCheck:
    """What a sound check found.

    Parameters
    ----------
    microphone, output
        The devices that were used.
    sample_rate_hz
        Rate at which both run.
    noise_db
        RMS level in dBFS of what the microphone hears in silence.
    round_trip_s
        Time from rendering a sample to hearing it; None if the microphone does not hear the output.
    leak_db
        Level of the reference at the microphone relative to the output; None if not heard.
    clock_ppm
        How much faster the output's clock runs than the microphone's; None if not heard.
    gaps
        Times that the sound was interrupted.
    """

    microphone: str
    output: str
    sample_rate_hz: float
    noise_db: float
    round_trip_s: float | None
    leak_db: float | None
    clock_ppm: float | None
    gaps: int


def check_sound(sound: SoundSettings) -> SoundCheck:
    """Listen to the room, play a soft chirp and a soft tone, and listen to what comes back.

    Raises
    ------
    SetupError
        If PortAudio or a device is missing, refuses, or delivers nothing.
    """
    devices = sound_devices()
    microphone = MicrophoneStream(choose_device(devices, "microphone", sound.microphone))
    output = OutputStream(choose_device(devices, "output", sound.output))
    probe = _Probe(microphone, output.sample_rate_hz)
    try:
        output.start(probe.render_into)
        microphone.start()
        heard = _recorded(microphone)
    finally:
        output.close()
        microphone.close()
    gaps = microphone.count.gaps + output.count.gaps
    found = probe_return(
        heard, sample_rate_hz=microphone.sample_rate_hz, played_at=probe.began_at_sample
    )
    return _check(microphone, output, found, gaps=gaps)


class _Probe:
    """Plays the test signal once the room has been listened to."""

    def __init__(self, microphone: MicrophoneStream, sample_rate_hz: float) -> None:
        self._microphone = microphone
        self._signal = probe_signal(sample_rate_hz)
        self._starts_at = round((SETTLING_S + SILENCE_S) * microphone.sample_rate_hz)
        self._settling = round(SETTLING_S * microphone.sample_rate_hz)
        self._played = 0
        self.began_at_sample = 0

    def render_into(self, block: NDArray[np.float32]) -> None:
        received = self._microphone.received_samples
        block.fill(0.0)
        if received < self._starts_at:
            return
        if self._played == 0:
            self.began_at_sample = received - self._settling
        part = self._signal[self._played : self._played + block.size]
        block[: part.size] = part
        self._played += part.size


def _recorded(microphone: MicrophoneStream) -> NDArray[np.float32]:
    length_s = SILENCE_S + CHIRP_S + PAUSE_S + TONE_S + LONGEST_DELAY_S
    missing = round(length_s * microphone.sample_rate_hz)
    give_up_s = time.monotonic() + SETTLING_S + length_s + _GIVE_UP_S
    blocks: list[NDArray[np.float32]] = []
    while missing > 0:
        if time.monotonic() > give_up_s or microphone.ended:
            raise SetupError(
                say('The microphone "{device}" delivers no sound.', device=microphone.device.name),
                say("Check that it is switched on and that this program may use it."),
            )
        blocks.append(microphone.read(missing))
        missing -= blocks[-1].size
        time.sleep(_POLL_S)
    return np.concatenate(blocks)


def _check(
    microphone: MicrophoneStream, output: OutputStream, found: ProbeReturn, *, gaps: int
) -> SoundCheck:
    rate_hz = microphone.sample_rate_hz
    return SoundCheck(
        microphone=microphone.device.name,
        output=output.device.name,
        sample_rate_hz=rate_hz,
        noise_db=found.noise_db,
        round_trip_s=None if found.delay_samples is None else found.delay_samples / rate_hz,
        leak_db=found.leak_db,
        clock_ppm=found.clock_ppm,
        gaps=gaps,
    )
