"""The engine in one process: a simulated player is heard, scored and told what to do."""

from pathlib import Path

import numpy as np
import pytest

from intonation.audio.sound_files import write_recording
from intonation.audio.sources import Samples
from intonation.engine.connecting import recording_connection, simulated_connection
from intonation.engine.connections import ConnectionCount, MakeSource, StandIn
from intonation.engine.messages import (
    EndTake,
    EngineEvent,
    RevealPitch,
    SetLoudness,
    SoundFault,
    SoundReady,
    SoundSettings,
    StartTake,
)
from intonation.engine.offline import practise
from intonation.engine.sound_engine import SoundEngine
from intonation.errors import SettingsError, SetupError, SoundFileError
from intonation.exercise.score import Score
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import cents_between
from intonation.practice.events import NoteScored, PhaseChanged, PitchRevealed, TakeEnded
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of
from intonation.simulation.plan import long_tones
from intonation.simulation.player import PlayedNote, SimulatedPlayer
from intonation.simulation.players import simulated_player

SETTINGS = PracticeSettings(drone_midi=65, loudness_db=-24.0)
NOTES = (69, 72, 77, 74)


class Played:
    """Makes players and remembers them, so that their truth can be asked afterwards."""

    def __init__(self, *notes_midi: int, name: str = "wren", sounding_s: float = 1.2) -> None:
        self._plan = long_tones(notes_midi or NOTES, sounding_s=sounding_s)
        self._name = name
        self.player: SimulatedPlayer | None = None

    def __call__(self, settings: PracticeSettings, _synth: object) -> SimulatedPlayer:
        self.player = simulated_player(
            self._name,
            instrument_named(settings.instrument),
            self._plan,
            seed=4,
            a4_hz=settings.a4_hz,
            reference_hz=drone_of(settings).frequencies_hz,
        )
        return self.player

    @property
    def truth(self) -> tuple[PlayedNote, ...]:
        assert self.player is not None
        return self.player.played


def engine_with(make_player: MakeSource, *, headphones: bool = True) -> SoundEngine:
    sound = SoundSettings(simulated=True, headphones=headphones)
    return SoundEngine(
        lambda: simulated_connection(sound, real_time=False, make_player=make_player),
        headphones=headphones,
    )


def run_to_the_end(engine: SoundEngine) -> list[EngineEvent]:
    events: list[EngineEvent] = []
    while engine.in_take:
        events += engine.listen()
    return events


def scored(events: list[EngineEvent]) -> list[NoteScored]:
    return [event for event in events if isinstance(event, NoteScored)]


def faults(events: list[EngineEvent]) -> list[SoundFault]:
    return [event for event in events if isinstance(event, SoundFault)]


def test_every_note_is_scored_within_half_a_cent_of_the_truth() -> None:
    played = Played()
    events = list(
        practise(SETTINGS, SoundSettings(simulated=True, headphones=True), make_player=played)
    )
    notes = scored(events)
    assert [note.scored.target.midi for note in notes] == [truth.midi for truth in played.truth]
    for note, truth in zip(notes, played.truth, strict=True):
        assert abs(cents_between(note.scored.held.f0_hz, target_hz=truth.f0_hz)) < 0.5


def test_a_take_goes_through_its_phases_and_ends_with_a_summary() -> None:
    events = list(practise(SETTINGS, SoundSettings(simulated=True), make_player=Played(69, 72)))
    phases = [event.phase for event in events if isinstance(event, PhaseChanged)]
    assert isinstance(events[0], SoundReady)
    assert phases[:3] == ["listen first", "your turn", "note sounds"]
    assert phases[-1] == "resting"
    assert isinstance(events[-1], TakeEnded)


def test_the_same_take_twice_gives_the_same_scores() -> None:
    sound = SoundSettings(simulated=True, headphones=True)
    first, second = (list(practise(SETTINGS, sound, make_player=Played(69, 72))) for _ in range(2))
    assert first == second


def test_the_drone_sounds_during_the_take_and_not_after_it() -> None:
    connection = StandIn("one note", sample_rate_hz=48_000.0, make_source=Played(69), leak_db=None)
    engine = SoundEngine(lambda: connection, headphones=True)
    engine.open()
    engine.obey(StartTake(SETTINGS))
    assert connection.synth.partials()[0].hz == pytest.approx(drone_of(SETTINGS).frequencies_hz[0])
    engine.listen()
    assert not connection.synth.silent
    engine.obey(EndTake())
    connection.synth.render(48_000)
    assert connection.synth.silent


def test_loudness_can_be_changed_while_a_take_goes_on() -> None:
    connection = StandIn("one note", sample_rate_hz=48_000.0, make_source=Played(69))
    engine = SoundEngine(lambda: connection, headphones=True)
    engine.open()
    engine.obey(StartTake(SETTINGS))
    before_db = connection.synth.partials()[0].level_db
    engine.obey(SetLoudness(SETTINGS.loudness_db - 10.0))
    assert connection.synth.partials()[0].level_db == pytest.approx(before_db - 10.0)


def revealed(*, shown: bool) -> list[PitchRevealed]:
    engine = engine_with(Played(69))
    engine.open()
    engine.obey(RevealPitch(shown))
    engine.obey(StartTake(SETTINGS))
    events = run_to_the_end(engine)
    return [event for event in events if isinstance(event, PitchRevealed)]


def test_the_pitch_is_told_only_to_those_who_ask() -> None:
    assert not revealed(shown=False)
    assert revealed(shown=True)


def test_the_pitch_is_told_at_most_thirty_times_a_second() -> None:
    times_s = [event.at_s for event in revealed(shown=True)]
    assert np.min(np.diff(times_s)) >= 1.0 / 30.0


def test_a_new_take_ends_the_one_that_goes_on() -> None:
    engine = engine_with(Played(69))
    engine.open()
    engine.obey(StartTake(SETTINGS))
    events = engine.obey(StartTake(SETTINGS))
    assert [type(event) for event in events] == [PhaseChanged, TakeEnded, PhaseChanged]


@pytest.mark.parametrize(
    "settings",
    [
        PracticeSettings(instrument="kazoo"),
        PracticeSettings(temperament="stretched"),
        PracticeSettings(voice="trumpet"),
    ],
)
def test_a_setting_that_cannot_be_is_said_and_the_engine_goes_on(
    settings: PracticeSettings,
) -> None:
    engine = engine_with(Played(69))
    engine.open()
    (fault,) = faults(engine.obey(StartTake(settings)))
    assert not fault.fatal
    assert fault.what_to_do
    assert scored(engine.obey(StartTake(SETTINGS)) + run_to_the_end(engine))


class Unreliable:
    """A connection that loses samples or stops, as sound cards do."""

    def __init__(self, make_player: MakeSource) -> None:
        self._inner = StandIn("unreliable", sample_rate_hz=48_000.0, make_source=make_player)
        self.synth = self._inner.synth
        self.sample_rate_hz = self._inner.sample_rate_hz
        self.count = ConnectionCount()
        self.stopped = False
        self.closed = False

    @property
    def exhausted(self) -> bool:
        return self._inner.exhausted

    def open(self) -> SoundReady:
        return self._inner.open()

    def begin_take(self, settings: PracticeSettings, melody: Score | None = None, /) -> None:
        self._inner.begin_take(settings, melody)

    def read(self, frames: int) -> Samples:
        return self._inner.read(frames // 2)

    def fault(self) -> SoundFault | None:
        return SoundFault("It has stopped.", "Plug it in.", fatal=True) if self.stopped else None

    def close(self) -> None:
        self.closed = True


def test_lost_samples_are_said_once_for_each_loss() -> None:
    connection = Unreliable(Played(69))
    engine = SoundEngine(lambda: connection, headphones=True)
    engine.open()
    engine.obey(StartTake(SETTINGS))
    assert not faults(engine.listen())
    connection.count = ConnectionCount(dropped_samples=512)
    assert len(faults(engine.listen())) == 1
    assert not faults(engine.listen())


def test_a_microphone_that_stops_ends_the_take_and_the_next_take_opens_it_again() -> None:
    connections: list[Unreliable] = []

    def connect() -> Unreliable:
        connections.append(Unreliable(Played(69, 72)))
        return connections[-1]

    engine = SoundEngine(connect, headphones=True)
    engine.open()
    engine.obey(StartTake(SETTINGS))
    heard: list[EngineEvent] = []
    while not scored(heard):
        heard += engine.listen()
    connections[0].stopped = True
    events = engine.check()
    assert [type(event) for event in events[-3:]] == [PhaseChanged, TakeEnded, SoundFault]
    assert connections[0].closed
    again = engine.obey(StartTake(SETTINGS))
    assert isinstance(again[0], SoundReady)
    assert len(scored(run_to_the_end(engine))) == 2


def test_a_recording_stands_in_for_the_microphone(tmp_path: Path) -> None:
    played = Played()
    samples = played(SETTINGS, None).read(48_000 * 20)
    write_recording(tmp_path / "take.wav", samples, sample_rate_hz=48_000.0)
    sound = SoundSettings(recording=tmp_path / "take.wav", headphones=True)
    notes = scored(list(practise(SETTINGS, sound)))
    for note, truth in zip(notes, played.truth, strict=True):
        assert abs(cents_between(note.scored.held.f0_hz, target_hz=truth.f0_hz)) < 0.5


def test_a_recording_that_cannot_be_read_is_said_and_tried_again(tmp_path: Path) -> None:
    path = tmp_path / "take.wav"
    path.write_text("no sound")
    sound = SoundSettings(recording=path, headphones=True)
    engine = SoundEngine(lambda: recording_connection(sound, real_time=False), headphones=True)
    (fault,) = faults(engine.open())
    assert "take.wav" in fault.sentence
    samples = Played(69)(SETTINGS, None).read(48_000 * 8)
    write_recording(path, samples, sample_rate_hz=48_000.0)
    events = engine.obey(StartTake(SETTINGS))
    assert isinstance(events[0], SoundReady)
    assert scored(run_to_the_end(engine))


def test_without_a_clock_mistakes_are_raised(tmp_path: Path) -> None:
    with pytest.raises(SoundFileError, match="no recording"):
        list(practise(SETTINGS, SoundSettings(recording=tmp_path / "nothing.wav")))
    with pytest.raises(SettingsError, match="kazoo"):
        list(practise(PracticeSettings(instrument="kazoo"), SoundSettings(simulated=True)))
    with pytest.raises(SetupError, match="cannot be hurried"):
        list(practise(SETTINGS, SoundSettings()))
