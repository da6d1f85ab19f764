from intonation.engine.connecting import simulated_connection
from intonation.engine.connections import StandIn
from intonation.engine.messages import (
    QuietDrone,
    SoundDrone,
    SoundFault,
    SoundSettings,
    StartTake,
)
from intonation.engine.sound_engine import SoundEngine
from intonation.practice.settings import PracticeSettings

SETTINGS = PracticeSettings(drone_midi=69, drone_octave=True, a4_hz=415.0)
BLOCK, BLOCKS = 480, 100


class Desk:
    """An engine whose connection can be looked at."""

    def __init__(self) -> None:
        self.connection: StandIn | None = None
        self.engine = SoundEngine(self.connect)

    def connect(self) -> StandIn:
        self.connection = simulated_connection(SoundSettings(simulated=True), real_time=False)
        return self.connection

    def sounding_hz(self) -> list[float]:
        assert self.connection is not None
        for _ in range(BLOCKS):
            self.connection.synth.render(BLOCK)
        lowest = {}
        for partial in self.connection.synth.partials():
            lowest.setdefault(round(partial.hz, 3), partial.level_db)
        return sorted(lowest)


def test_the_drone_sounds_at_its_pitch_without_a_take() -> None:
    desk = Desk()
    desk.engine.obey(SoundDrone(SETTINGS))
    assert not desk.engine.in_take
    assert desk.sounding_hz()[0] == 415.0


def test_the_drone_outside_a_take_fades_when_it_is_quieted() -> None:
    desk = Desk()
    desk.engine.obey(SoundDrone(SETTINGS))
    desk.sounding_hz()
    desk.engine.obey(QuietDrone())
    desk.sounding_hz()
    assert desk.connection is not None
    assert desk.connection.synth.silent


def test_a_take_keeps_its_own_drone() -> None:
    desk = Desk()
    desk.engine.obey(StartTake(SETTINGS))
    desk.engine.obey(SoundDrone(PracticeSettings(drone_midi=60)))
    desk.engine.obey(QuietDrone())
    assert desk.sounding_hz()[0] == 415.0


def test_an_unknown_voice_is_said_in_a_sentence() -> None:
    (*_, fault) = Desk().engine.obey(SoundDrone(PracticeSettings(voice="trumpet")))
    assert isinstance(fault, SoundFault)
    assert "trumpet" in fault.sentence
