"""The sound card as a connection: microphone in, reference out, and what can go wrong."""

import time

from intonation.audio.devices import choose_device, look_again, sound_devices
from intonation.audio.sources import Samples
from intonation.audio.streams import (
    DEAD_S,
    STALL_S,
    MicrophoneStream,
    OutputStream,
    StallWatch,
)
from intonation.diagnosis.check import AskedTone
from intonation.engine.connections import ConnectionCount
from intonation.engine.messages import SoundFault, SoundReady, SoundSettings
from intonation.engine.reference import reference_for
from intonation.exercise.score import Score
from intonation.language import say
from intonation.practice.settings import PracticeSettings

_FADE_OUT_LIMIT_S = 0.5
_POLL_S = 0.005


class CardConnection:
    """Microphone and output of the sound card.

    Parameters
    ----------
    sound
        Which devices to use, and what sounds the reference.

    Raises
    ------
    SetupError
        If PortAudio or a device is missing or refuses.
    """

    def __init__(self, sound: SoundSettings) -> None:
        look_again()
        devices = sound_devices()
        microphone = choose_device(devices, "microphone", sound.microphone)
        output = choose_device(devices, "output", sound.output)
        self._microphone = MicrophoneStream(microphone)
        self._output = OutputStream(output)
        self._watches = (StallWatch(), StallWatch())
        self._faltering: set[str] = set()
        self.synth, self._complaint = reference_for(
            sound.sounds, sample_rate_hz=self._output.sample_rate_hz
        )

    @property
    def sample_rate_hz(self) -> float:
        """Rate of the microphone."""
        return self._microphone.sample_rate_hz

    @property
    def exhausted(self) -> bool:
        """Never: a microphone has no end, only faults."""
        return False

    @property
    def count(self) -> ConnectionCount:
        """What the callbacks have counted so far."""
        heard, played = self._microphone.count, self._output.count
        return ConnectionCount(
            input_blocks=heard.blocks,
            output_blocks=played.blocks,
            overflows=heard.gaps,
            underflows=played.gaps,
            dropped_samples=heard.dropped_samples,
        )

    def open(self) -> SoundReady:
        """Begin to listen and to sound."""
        self._output.start(self.synth.render_into)
        self._microphone.start()
        return SoundReady(
            microphone=self._microphone.device.name,
            output=self._output.device.name,
            sample_rate_hz=self.sample_rate_hz,
            latency_s=self._microphone.latency_s + self._output.latency_s,
        )

    def begin_take(self, _settings: PracticeSettings, _melody: Score | None = None, /) -> None:
        """Throw away what was heard before this take."""
        self._microphone.forget()

    def begin_check(self, _settings: PracticeSettings, /) -> None:
        """Throw away what was heard before this check."""
        self._microphone.forget()

    def ask(self, _asked: AskedTone | None, /) -> None:
        """Do nothing: who plays here reads it from the screen."""

    def read(self, frames: int) -> Samples:
        """Return at most ``frames`` samples that the microphone has heard."""
        return self._microphone.read(frames)

    def fault(self) -> SoundFault | None:
        """Return which of the two streams has faltered or stopped, or why other sounds are used."""
        if self._complaint is not None:
            complaint, self._complaint = self._complaint, None
            return complaint
        now_s = time.monotonic()
        return self._fault_of(
            say('The microphone "{device}"', device=self._microphone.device.name),
            ended=self._microphone.ended,
            standing_s=self._watches[0].standing_s(self._microphone.count.blocks, now_s=now_s),
        ) or self._fault_of(
            say('The output "{device}"', device=self._output.device.name),
            ended=self._output.ended,
            standing_s=self._watches[1].standing_s(self._output.count.blocks, now_s=now_s),
        )

    def _fault_of(self, what: str, *, ended: bool, standing_s: float) -> SoundFault | None:
        if ended or standing_s > DEAD_S:
            return _stopped(what)
        if standing_s < STALL_S:
            self._faltering.discard(what)
            return None
        # said once for each time it falters
        if what in self._faltering:
            return None
        self._faltering.add(what)
        return _faltered(what)

    def close(self) -> None:
        """Fade the reference out, play what is on its way, and end both streams."""
        self.synth.stop()
        give_up_s = time.monotonic() + _FADE_OUT_LIMIT_S
        while not (self.synth.silent or self._output.ended) and time.monotonic() < give_up_s:
            time.sleep(_POLL_S)
        self._output.close()
        self._microphone.close()
        self.synth.close()


def _stopped(what: str) -> SoundFault:
    return SoundFault(
        sentence=say("{what} has stopped; notes played from now on are not heard.", what=what),
        what_to_do=say("Check that it is plugged in and switched on, then start again."),
        fatal=True,
    )


def _faltered(what: str) -> SoundFault:
    return SoundFault(
        sentence=say("{what} falters; the note that sounds now may be misjudged.", what=what),
        what_to_do=say("Play it again; close other programs if this comes back."),
        fatal=False,
    )
