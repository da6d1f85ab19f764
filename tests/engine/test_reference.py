"""What sounds in the engine is what the player chose, or the built-in voices with a sentence."""

import sys
import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from intonation.assessment.scoring import ScoredNote
from intonation.engine.connecting import simulated_connection
from intonation.engine.messages import SoundDrone, SoundFault, SoundSettings, StartTake
from intonation.engine.reference import reference_for
from intonation.engine.sound_engine import SoundEngine
from intonation.instruments.library import instrument_named
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of
from intonation.simulation.plan import long_tones
from intonation.simulation.player import SimulatedPlayer
from intonation.simulation.players import simulated_player
from intonation.synth.soundfont_writer import soundfont
from intonation.synth.sounds import PlayersFont, Sounds, SoundsKind
from intonation.synth.tones import Tone
from tests.support.libraries import needs_fluidsynth
from tests.support.steady_sound import frequency_error_cents

RATE_HZ = 48_000
SETTINGS = PracticeSettings(drone_midi=65, loudness_db=-12.0)


def two_notes(_settings: PracticeSettings, _synth: object) -> SimulatedPlayer:
    plan = long_tones((69, 72), sounding_s=1.2)
    return simulated_player("wren", instrument_named("alto"), plan, seed=4)


def engine_with(sounds: Sounds) -> SoundEngine:
    sound = SoundSettings(simulated=True, seed=3, sounds=sounds)
    return SoundEngine(lambda: simulated_connection(sound, real_time=False, make_player=two_notes))


def scored_notes(kind: SoundsKind) -> list[ScoredNote]:
    engine = engine_with(Sounds(kind))
    engine.open()
    events = engine.obey(StartTake(SETTINGS))
    while engine.in_take:
        events += engine.listen()
    engine.close()
    return [event.scored for event in events if isinstance(event, NoteScored)]


def test_without_the_library_the_built_in_voices_sound_and_one_sentence_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "fluidsynth", None)
    engine = engine_with(Sounds("fluidsynth"))
    engine.open()
    (fault,) = engine.check()
    assert isinstance(fault, SoundFault)
    assert not fault.fatal
    assert "FluidSynth library is missing. The built-in voices sound" in fault.sentence
    assert engine.check() == []
    assert engine.obey(SoundDrone(SETTINGS)) == []


def test_a_soundfont_that_has_gone_is_named_and_practice_goes_on(tmp_path: Path) -> None:
    engine = engine_with(Sounds("soundfont", PlayersFont(tmp_path / "gone.sf2")))
    engine.open()
    (fault,) = engine.check()
    assert "gone.sf2" in fault.sentence
    assert engine.obey(StartTake(SETTINGS))


def test_a_soundfont_that_is_kept_but_not_chosen_is_not_opened(tmp_path: Path) -> None:
    engine = engine_with(Sounds("built-in", PlayersFont(tmp_path / "gone.sf2")))
    engine.open()
    assert engine.check() == []


def test_a_drone_that_cannot_be_taken_out_of_the_room_is_said_when_the_take_begins() -> None:
    """A plucked drone changes all the time; headphones keep it from the microphone."""
    for headphones, said in ((False, 1), (True, 0)):
        sound = SoundSettings(simulated=True, headphones=headphones)
        engine = SoundEngine(
            lambda sound=sound: simulated_connection(sound, real_time=False, make_player=two_notes),
            headphones=headphones,
        )
        engine.open()
        events = engine.obey(StartTake(replace(SETTINGS, voice="plucked")))
        faults = [event for event in events if isinstance(event, SoundFault)]
        assert ["cannot be taken out" in fault.sentence for fault in faults] == [True] * said
        assert not any(fault.fatal for fault in faults)


class TestWithFluidSynth:
    pytestmark = needs_fluidsynth()

    def test_a_take_over_a_leaking_drone_is_scored_as_with_the_built_in_voices(self) -> None:
        """The tracker must know FluidSynth's partials, or the drone would be scored as notes."""
        through_fluidsynth, built_in = scored_notes("fluidsynth"), scored_notes("built-in")
        assert len(built_in) == 2
        assert [one.target for one in through_fluidsynth] == [one.target for one in built_in]
        for one, other in zip(through_fluidsynth, built_in, strict=True):
            assert one.cents == pytest.approx(other.cents, abs=0.3)

    def test_without_room_for_a_temporary_file_the_built_in_voices_sound(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "gone"))
        engine = engine_with(Sounds("fluidsynth"))
        engine.open()
        (fault,) = engine.check()
        assert "temporary file" in fault.sentence
        assert engine.obey(StartTake(SETTINGS))

    def test_the_drone_is_exact_whatever_its_tuning(self) -> None:
        settings = PracticeSettings(drone_midi=62, a4_hz=415.3, temperament="vallotti")
        asked_hz = drone_of(settings).frequencies_hz[0]
        reference, _ = reference_for(Sounds("fluidsynth"), sample_rate_hz=RATE_HZ)
        reference.set_tones((Tone(asked_hz, voice="reed"),))
        reference.render(RATE_HZ // 2)
        samples = reference.render(RATE_HZ).astype(float)
        assert abs(frequency_error_cents(samples, RATE_HZ, expected_hz=asked_hz)) < 0.03
        reference.close()

    def test_a_plucked_tone_is_plucked_again(self) -> None:
        reference, _ = reference_for(Sounds("fluidsynth"), sample_rate_hz=RATE_HZ)
        reference.set_tones((Tone(440.0, voice="plucked"),))
        seconds = [np.std(reference.render(RATE_HZ)) for _ in range(9)]
        assert seconds[8] == pytest.approx(seconds[4], rel=0.05)
        assert seconds[3] < 0.3 * seconds[4]
        reference.close()

    def test_a_soundfont_of_the_players_own_sounds_and_claims_no_partials(
        self, tmp_path: Path
    ) -> None:
        path = tmp_path / "own.sf2"
        path.write_bytes(soundfont())
        reference, complaint = reference_for(
            Sounds("soundfont", PlayersFont(path)), sample_rate_hz=RATE_HZ
        )
        assert complaint is None
        reference.set_tones((Tone(440.0),))
        assert np.std(reference.render(RATE_HZ)) > 0.005
        assert reference.partials() == ()
        reference.close()
