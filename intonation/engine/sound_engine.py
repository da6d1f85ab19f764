"""The sound engine: joins what is heard to a practice session and sounds the reference.

The same class runs in the child process, in tests and, as fast as it can, for the demonstration.
It has no thread and no clock of its own: whoever owns it calls `listen` again and again.
"""

from collections.abc import Callable

import numpy as np

from intonation.audio.sources import Samples
from intonation.engine.check_take import CheckTake
from intonation.engine.connections import Connection, ConnectionCount
from intonation.engine.keys import Keys
from intonation.engine.losses import LossWatch
from intonation.engine.melody_take import MelodyTake
from intonation.engine.messages import (
    AskTone,
    CloseSound,
    EndTake,
    EngineCommand,
    EngineEvent,
    PlaySound,
    QuietDrone,
    ReferenceChanged,
    RevealPitch,
    SetLoudness,
    SoundCounters,
    SoundDrone,
    SoundFault,
    SoundPlayed,
    StartCheck,
    StartMelody,
    StartTake,
    StepWanted,
)
from intonation.engine.take import Take, drone_tones
from intonation.errors import IntonationError

READ_S = 0.1
"""Longest stretch that is read and analysed at once."""

LONGEST_LISTEN_S = 10.0
"""After this much a command may wait no longer, even if more has been heard."""

_SILENCE_DB = -120.0
_Start = StartTake | StartMelody | StartCheck


class SoundEngine:
    """Takes commands, yields events; what goes wrong is an event too, never an exception.

    Parameters
    ----------
    connect
        Opens the way to the sound; called again at the next take after a fault.
    headphones
        Whether the player hears the reference in headphones, so that it cannot leak.
    keys
        A MIDI keyboard whose keys become the reference of a take.
    """

    def __init__(
        self,
        connect: Callable[[], Connection],
        *,
        headphones: bool = False,
        keys: Keys | None = None,
    ) -> None:
        self._connect = connect
        self._keys = keys
        self._headphones = headphones
        self._connection: Connection | None = None
        self._take: Take | MelodyTake | CheckTake | None = None
        self._losses = LossWatch()
        self._latency_s = 0.0
        self._clip_sounds = False
        self._revealed = False
        self._level_db = _SILENCE_DB

    @property
    def in_take(self) -> bool:
        """Whether a take is going on."""
        return self._take is not None

    def open(self) -> list[EngineEvent]:
        """Connect to the sound."""
        self._disconnect()
        try:
            self._connection = self._connect()
            ready = self._connection.open()
        except IntonationError as error:
            self._disconnect()
            return [SoundFault(error.sentence, error.what_to_do, fatal=True)]
        self._latency_s = ready.latency_s
        # its pedal starts the first take; a keyboard that is missing is said when the take begins
        self._begin_keys()
        return [ready]

    def obey(self, command: EngineCommand) -> list[EngineEvent]:
        """Carry out a command."""
        match command:
            case StartTake() | StartMelody() | StartCheck():
                return self._start(command)
            case PlaySound(samples):
                return self._play(samples)
            case EndTake():
                return self._end()
            case SetLoudness() | SoundDrone() | QuietDrone():
                return self._change_reference(command)
            case RevealPitch() | AskTone():
                self._pass_on(command)
            case CloseSound():
                return self.close()
        return []

    def listen(self, *, limit_s: float = LONGEST_LISTEN_S) -> list[EngineEvent]:
        """Take in what has been heard since the last time, at most ``limit_s`` of it."""
        connection, events = self._connection, list[EngineEvent]()
        if connection is None:
            return events
        events += self._follow_keys()
        wanted, left = (round(s * connection.sample_rate_hz) for s in (READ_S, limit_s))
        while left > 0 and (samples := connection.read(wanted)).size:
            left -= samples.size
            self._level_db = _level_db(samples)
            if self._take is not None:
                events += self._take.hear(samples)
            # with a part of a stretch everything has been read; more comes, but not now
            if samples.size < wanted:
                break
        events += self._lost(connection)
        over = isinstance(self._take, MelodyTake) and self._take.over
        if self._take is not None and (over or connection.exhausted):
            events += self._end()
        if self._clip_sounds and not connection.synth.playing_clip:
            self._clip_sounds = False
            events.append(SoundPlayed())
        return events

    def check(self) -> list[EngineEvent]:
        """Return what is wrong with the sound now; a take that can hear no more is ended."""
        fault = None if self._connection is None else self._connection.fault()
        if fault is None:
            return []
        if not fault.fatal:
            return [fault]
        ended = self._end()
        self._disconnect()
        return [*ended, fault]

    def counters(self) -> SoundCounters:
        """Return what was counted since the sound was opened."""
        count = ConnectionCount() if self._connection is None else self._connection.count
        return SoundCounters(
            input_blocks=count.input_blocks,
            output_blocks=count.output_blocks,
            overflows=count.overflows,
            underflows=count.underflows,
            dropped_samples=count.dropped_samples,
            level_db=self._level_db,
            reference_suppression_db=self._take.suppression_db if self._take else None,
        )

    def close(self) -> list[EngineEvent]:
        """End the take, fade out and let the sound go."""
        events = self._end()
        self._disconnect()
        if self._keys is not None:
            self._keys.close()
        return events

    def _lost(self, connection: Connection) -> list[EngineEvent]:
        fault = self._losses.fault(connection.count)
        return [fault] if fault is not None and self._take is not None else []

    def _pass_on(self, command: RevealPitch | AskTone) -> None:
        if isinstance(command, RevealPitch):
            self._revealed = command.shown
            if self._take is not None:
                self._take.reveal(command.shown)
        elif isinstance(self._take, CheckTake) and self._connection is not None:
            self._take.ask(command.asked)
            self._connection.ask(command.asked)

    def _start(self, command: _Start) -> list[EngineEvent]:
        events = self._end()
        if self._connection is None:
            events += self.open()
        if self._connection is None:
            return events
        try:
            return [*events, *self._begin(command, self._connection)]
        except IntonationError as error:
            return [*events, SoundFault(error.sentence, error.what_to_do, fatal=False)]

    def _begin(self, command: _Start, connection: Connection) -> list[EngineEvent]:
        if isinstance(command, StartCheck):
            self._take, begun = CheckTake.begun(command.settings, connection)
            return begun
        if isinstance(command, StartMelody):
            self._take = MelodyTake.begun(command, connection, latency_s=self._latency_s)
            return self._begin_keys()
        take, begun = Take.begun(command.settings, connection, headphones=self._headphones)
        take.reveal(self._revealed)
        self._take = take
        return [*begun, *self._begin_keys()]

    def _begin_keys(self) -> list[EngineEvent]:
        try:
            if self._keys is not None:
                self._keys.begin()
        except IntonationError as error:
            return [SoundFault(error.sentence, error.what_to_do, fatal=False)]
        return []

    def _follow_keys(self) -> list[EngineEvent]:
        take, keys = self._take, self._keys
        if keys is None:
            return []
        try:
            moved = keys.moved()
            steps: list[EngineEvent] = [StepWanted()] if keys.step_asked() else []
            if not (moved and isinstance(take, Take)):
                return steps
            drone = keys.reference(take.settings)
            take.refer_to(drone)
        except IntonationError as error:
            return [SoundFault(error.sentence, error.what_to_do, fatal=False)]
        return [ReferenceChanged(drone), *steps]

    def _change_reference(
        self, command: SetLoudness | SoundDrone | QuietDrone
    ) -> list[EngineEvent]:
        opens = isinstance(command, SoundDrone) and self._connection is None
        events = self.open() if opens else []
        if self._connection is None:
            return events
        synth = self._connection.synth
        try:
            match command:
                case SetLoudness(loudness_db):
                    synth.set_loudness(loudness_db)
                case SoundDrone(settings) if not self.in_take:
                    synth.set_loudness(settings.loudness_db)
                    synth.set_tones(drone_tones(settings))
                case QuietDrone() if not self.in_take:
                    synth.set_tones(())
        except IntonationError as error:
            return [*events, SoundFault(error.sentence, error.what_to_do, fatal=False)]
        return events

    def _play(self, samples: Samples) -> list[EngineEvent]:
        events = self.open() if self._connection is None else []
        if self._connection is not None:
            self._connection.synth.play(samples)
            self._clip_sounds = True
        return events

    def _end(self) -> list[EngineEvent]:
        if self._take is None:
            return []
        take, self._take = self._take, None
        if self._connection is not None:
            self._connection.synth.stop()
        return take.ended()

    def _disconnect(self) -> None:
        connection, self._connection = self._connection, None
        if connection is not None:
            connection.close()


def _level_db(samples: Samples) -> float:
    power = float(np.mean(np.square(samples, dtype=float)))
    return max(_SILENCE_DB, 10.0 * float(np.log10(power + 1e-12)))
