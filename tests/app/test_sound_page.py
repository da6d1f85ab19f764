from dataclasses import dataclass, field, replace
from pathlib import Path
from threading import Event

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from intonation.app.background import Progress
from intonation.app.devices_found import DevicesFound
from intonation.app.screens.sound import SoundPage
from intonation.app.sound_choices import sound_choices
from intonation.app.sound_state import SoundState
from intonation.app.sounds_choices import NO_FONT, FontKnown, presets_of, sounds_choices
from intonation.app.surroundings import measured_apart
from intonation.app.widgets.typed_value import TypedValue
from intonation.engine.messages import (
    EngineClosed,
    SoundCounters,
    SoundFault,
    SoundReady,
    SoundSettings,
)
from intonation.errors import DataFileError, SettingsError, SoundFileError
from intonation.practice.events import PhaseChanged
from intonation.synth.soundfont_check import FontReport
from intonation.synth.soundfont_writer import soundfont
from intonation.synth.sounds import PlayersFont, Sounds
from tests.app.conftest import Stand, screen_text, settled
from tests.support.libraries import needs_fluidsynth

READY = SoundReady("Desk microphone", "Headphones", 48_000.0, 0.043)
FAULT = SoundFault("The microphone has stopped.", "Plug it in.", fatal=True)
GLITCH = SoundFault("Some of the sound was lost.", "Play it again.", fatal=False)


async def test_the_page_says_what_is_listened_to_and_how_the_sound_is_doing(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s")
        stand.engine.heard(SoundCounters(2250, 2250, 1, 2, 480, -31.2, 68.0))
        await settled(pilot)
        page = " ".join(screen_text(pilot).split())
        assert "Listening to Desk microphone" in page
        assert "48 kHz, 43 ms" in page
        assert "Input level −31 dBFS" in page
        assert "Interruptions 3, 480 samples lost" in page


async def test_other_choices_count_when_the_page_is_left(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "down", "down", "down", "right")
        await settled(pilot)
        assert len(stand.sound.engines) == 1
        await pilot.press("escape")
        await settled(pilot)
        first, second = stand.sound.engines
        assert first.closed
        assert second.sound == SoundSettings(headphones=True)
        assert stand.remembered[-1].headphones


async def test_leaving_without_a_change_leaves_the_sound_running(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "escape")
        await settled(pilot)
        assert len(stand.sound.engines) == 1
        assert not stand.engine.closed


async def test_a_simulated_player_can_stand_in_without_any_sound_library(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "right", "escape")
        await settled(pilot)
        assert stand.engine.sound.simulated


async def test_what_a_simulated_player_plays_is_kept_under_a_name_of_its_own(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("enter", *"quinn", "enter", "s", "right", "escape")
        await settled(pilot)
        assert "simulated player" in screen_text(pilot)
        assert stand.remembered[-1].practice.player == "quinn"
        await pilot.press("s", "right", "escape")
        await settled(pilot)
        assert "alto with two faults" in screen_text(pilot)
        assert stand.engine.sound.two_faults
        assert stand.remembered[-1].practice.instrument == "alto"
        await pilot.press("s", "right", "escape")
        await settled(pilot)
        assert "quinn" in screen_text(pilot)
        assert "two faults" not in screen_text(pilot)


async def test_a_recording_that_is_not_there_is_said_in_place(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", "enter", *"take.wav", "enter")
        assert 'There is no file "take.wav".' in screen_text(pilot)


def test_a_recording_stands_in_for_the_microphone(tmp_path: Path) -> None:
    recording = tmp_path / "take.wav"
    recording.write_bytes(b"RIFF")
    entered = sound_choices(DevicesFound())[0].entered
    assert entered is not None
    assert entered(SoundSettings(), str(recording)) == SoundSettings(recording=recording)
    with pytest.raises(SoundFileError, match="no file"):
        entered(SoundSettings(), str(tmp_path / "other.wav"))


def test_microphones_are_stepped_through_and_the_systems_choice_comes_back() -> None:
    microphone = sound_choices(DevicesFound(microphones=("Desk", "Clip")))[1]
    assert microphone.stepped is not None
    names = [SoundSettings()]
    for _ in range(3):
        names.append(microphone.stepped(names[-1], 1))
    assert [sound.microphone for sound in names] == [None, "Desk", "Clip", None]


def test_a_fatal_fault_stays_until_the_sound_runs_again() -> None:
    state = SoundState().after(READY).after(FAULT)
    assert state.trouble == "The microphone has stopped. Plug it in."
    assert state.after(PhaseChanged("resting", 9.0)).trouble is not None
    assert state.after(READY).trouble is None


def test_a_passing_fault_is_forgotten_with_the_take() -> None:
    state = SoundState().after(READY).after(GLITCH)
    assert state.trouble is not None
    assert state.after(PhaseChanged("your turn", 3.0)).trouble is not None
    assert state.after(PhaseChanged("resting", 9.0)).trouble is None


def test_an_ended_engine_is_not_shown_as_running() -> None:
    assert SoundState().after(READY).after(EngineClosed()).ready is None


def test_a_keyboard_can_be_chosen_and_a_machine_without_midi_says_why_not() -> None:
    *_, keyboard, step_key = sound_choices(DevicesFound(keyboards=("Stage piano",)))
    assert keyboard.stepped is not None
    assert step_key.entered is not None
    chosen = step_key.entered(SoundSettings(), "A0")
    assert (chosen.step_midi, step_key.shown(chosen)) == (21, "A0")
    assert step_key.entered(chosen, "").step_midi is None
    with pytest.raises(SettingsError):
        step_key.entered(chosen, "the lowest")
    assert keyboard.stepped(SoundSettings(), 1).keyboard == "Stage piano"
    missing = sound_choices(DevicesFound(keyboard_trouble="No MIDI here. Install it."))[-1]
    assert missing.explained(SoundSettings()) == "No MIDI here. Install it."


async def test_sounds_are_stepped_through_and_count_when_the_page_is_left(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("s", *["down"] * 4, "right", "escape")
        await settled(pilot)
        assert stand.engine.sound.sounds == Sounds("fluidsynth")
        assert stand.remembered[-1].sounds == "fluidsynth"


async def test_a_soundfont_that_cannot_be_used_is_said_in_place_and_nothing_changes(
    stand: Stand, tmp_path: Path
) -> None:
    broken = tmp_path / "broken.sf2"
    broken.write_bytes(b"RIFF and no more")
    async with stand.opened(size=(120, 40)) as pilot:
        await enter_sounds(pilot, broken)
        await settled(pilot)
        assert "broken.sf2 cannot be used as a SoundFont" in flat(pilot)
        await pilot.press("escape", "escape")
        await settled(pilot)
        assert len(stand.sound.engines) == 1


async def enter_sounds(pilot: Pilot[int], path: Path) -> None:
    """Open the sound page and type a path as the sounds."""
    await pilot.press("s", *["down"] * 4, "enter")
    pilot.app.screen.query_one(TypedValue).value = str(path)
    await pilot.press("enter")


def flat(pilot: Pilot[int]) -> str:
    """Return the words of the page in the order of its columns, without line ends."""
    page = pilot.app.screen
    texts = [str(one.render()) for one in page.query(Static)]
    return " ".join(" ".join(texts).split())


@dataclass(slots=True)
class HeldMeasurement:
    """The real measurement of a SoundFont, which begins when a test lets it."""

    may_begin: Event = field(default_factory=Event)

    def __call__(self, font: PlayersFont, progress: Progress) -> FontReport:
        while not self.may_begin.wait(0.01):
            progress(0.0)
        return measured_apart(font, progress)


class TestAPlayersSoundFont:
    pytestmark = needs_fluidsynth()

    @pytest.fixture
    def font(self, tmp_path: Path) -> Path:
        path = tmp_path / "own.sf2"
        path.write_bytes(soundfont())
        return path

    async def test_it_is_measured_and_its_error_shown_before_it_is_used(
        self, stand: Stand, font: Path
    ) -> None:
        stand.measure_font = measurement = HeldMeasurement()
        async with stand.opened(size=(120, 40)) as pilot:
            await enter_sounds(pilot, font)
            await pilot.pause()
            assert "is measured before it is used" in flat(pilot)
            assert pilot.app.sound.sounds == Sounds()
            measurement.may_begin.set()
            await settled(pilot)
            assert "own.sf2 is up to 0.3 cents off" in flat(pilot)
            assert "wear headphones" in flat(pilot)
            await pilot.press("escape")
            await settled(pilot)
            assert stand.engine.sound.sounds == Sounds("soundfont", PlayersFont(font))
            assert stand.remembered[-1].soundfont == str(font)

    async def test_the_measurement_can_be_stopped_and_the_sounds_from_before_stay(
        self, stand: Stand, font: Path
    ) -> None:
        stand.measure_font = HeldMeasurement()
        async with stand.opened() as pilot:
            await enter_sounds(pilot, font)
            await pilot.press("escape")
            await settled(pilot)
            assert isinstance(pilot.app.screen, SoundPage)
            assert pilot.app.sound.sounds == Sounds()
            assert "built-in voices" in screen_text(pilot)
            await pilot.press("escape")
            await settled(pilot)
            assert len(stand.sound.engines) == 1

    async def test_a_soundfont_that_has_gone_is_said_in_place(
        self, stand: Stand, font: Path
    ) -> None:
        gone = Sounds("fluidsynth", PlayersFont(font.with_name("gone.sf2")))
        async with stand.opened(size=(120, 40)) as pilot:
            pilot.app.sound = SoundSettings(sounds=gone)
            await pilot.press("s", *["down"] * 4, "right")
            await settled(pilot)
            assert "gone.sf2 cannot be opened" in flat(pilot)
            assert pilot.app.sound.sounds == gone

    def test_a_preset_is_chosen_by_its_number_or_name(self, font: Path) -> None:
        known = FontKnown(presets=presets_of(font))
        line = next(
            one for one in sounds_choices(known, fluidsynth_trouble=None) if one.name == "preset"
        )
        sound = SoundSettings(sounds=Sounds("soundfont", PlayersFont(font)))
        assert line.entered is not None
        assert line.entered(sound, "1").sounds.font == PlayersFont(font, program=1)
        assert line.entered(sound, "2:1").sounds.font == PlayersFont(font, program=1, bank=2)
        name = known.presets[-1].name
        chosen = line.entered(sound, name.upper()).sounds.font
        assert chosen is not None
        assert line.shown(replace(sound, sounds=Sounds("soundfont", chosen))).endswith(name)
        with pytest.raises(DataFileError, match='no preset "kazoo"'):
            line.entered(sound, "kazoo")


def test_a_machine_without_fluidsynth_says_so_beside_the_choice() -> None:
    (line,) = sounds_choices(NO_FONT, fluidsynth_trouble="It is missing. Install it.")
    assert (
        line.explained(SoundSettings(sounds=Sounds("fluidsynth"))) == "It is missing. Install it."
    )
    assert "Exact" in line.explained(SoundSettings())
