import pytest

from intonation.engine.messages import (
    EndTake,
    ReferenceChanged,
    RevealPitch,
    SetLoudness,
    SoundFault,
    StartTake,
    StepWanted,
)
from intonation.errors import StoreError
from intonation.exercise.drone import Drone, DroneTone
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import TAKE_NOTES, Stand, play_take, screen_text, settled


async def test_space_starts_a_take_with_the_chosen_settings(stand: Stand) -> None:
    settings = PracticeSettings(instrument="tenor", drone_midi=62, a4_hz=415.0)
    async with stand.opened(settings) as pilot:
        await pilot.press("space")
        assert stand.engine.commands == [StartTake(settings)]
        assert stand.takes == [settings]


async def test_a_take_that_is_started_at_once_sounds_as_soon_as_the_engine_listens(
    stand: Stand,
) -> None:
    app = stand.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("space")
        await settled(pilot)
        assert stand.engine.commands == [StartTake(app.settings)]


async def test_before_the_first_note_the_page_says_what_to_listen_for(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await pilot.press("space")
        await settled(pilot)
        page = screen_text(pilot)
        assert "Listen first" in page
        assert "C5   fifth" in page


async def test_a_tempered_interval_is_described_by_its_beat_and_not_as_a_pure_one(
    stand: Stand,
) -> None:
    # F3-C4 beats 0.6 times a second in equal temperament (S. Teki et al., J. Neurosci. 32 (2012)
    # 12251, Table 1, after B. Capleton); an octave higher twice as fast.
    async with stand.opened(PracticeSettings(temperament="equal")) as pilot:
        await pilot.press("space")
        await settled(pilot)
        page = " ".join(screen_text(pilot).split())
        assert "this fifth beats 1.2 times a second" in page
        assert "Lower than a keyboard's" not in page


@pytest.mark.parametrize(("midi", "cents"), [(69, 0.0), (72, 35.0), (81, -48.0)])
async def test_the_page_is_still_while_a_note_sounds_whatever_its_pitch(
    stand: Stand, midi: int, cents: float
) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, TAKE_NOTES[:2])
        before = pilot.app.export_screenshot()
        stand.engine.begin_note()
        stand.engine.read_pitch(midi, cents)
        stand.engine.read_pitch(midi, cents + 5.0)
        await settled(pilot)
        assert pilot.app.export_screenshot() == before


async def test_when_a_note_ends_its_card_says_how_it_was_and_what_to_do(stand: Stand) -> None:
    async with stand.opened(size=(120, 40)) as pilot:
        await play_take(stand, pilot, [(81, 14.2)])
        page = " ".join(screen_text(pilot).split())
        assert "14.2 cents sharp" in page
        assert "Target: the pure major third over the drone F4." in page
        assert "lower" in page
        assert "Steady within 1.4 cents" in page


async def test_a_key_reveals_the_pitch_and_hides_it_again(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [])
        await pilot.press("r")
        stand.engine.begin_note()
        stand.engine.read_pitch(81, -17.3)
        await settled(pilot)
        assert "A5  17 cents flat" in screen_text(pilot)
        await pilot.press("r")
        assert "17 cents flat" not in screen_text(pilot)
        assert stand.engine.commands[1:] == [RevealPitch(True), RevealPitch(False)]


async def test_the_latest_of_many_readings_is_shown_and_no_scored_note_is_lost(
    stand: Stand,
) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [])
        await pilot.press("r")
        for step in range(200):
            stand.engine.read_pitch(81, step / 10.0)
            if step % 50 == 0:
                stand.engine.end_note(69, 1.0)
        await settled(pilot)
        assert "A5  20 cents sharp" in screen_text(pilot)
        assert len(pilot.app.screen.state.notes) == len(stand.kept) == 4


async def test_every_note_is_kept_before_it_is_shown(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [])
        note = stand.engine.end_note(72, 4.0)
        assert stand.kept == [note]


async def test_a_record_that_cannot_be_written_is_said_in_place_and_practice_goes_on(
    stand: Stand,
) -> None:
    async with stand.opened() as pilot:
        stand.refusal = StoreError("/home/record may not be written.", "Check who owns the folder.")
        await play_take(stand, pilot, [(72, 4.0)])
        assert "may not be written. Check who owns" in screen_text(pilot)
        assert "4.0 cents sharp" in screen_text(pilot)
        stand.refusal = None
        stand.engine.end_note(72, 5.0)
        await settled(pilot)
        assert "may not be written" not in screen_text(pilot)


async def test_a_sound_that_is_no_note_is_answered_without_a_card(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [])
        stand.engine.ignore_note()
        await settled(pilot)
        assert "too short to score" in screen_text(pilot)


async def test_loudness_keys_change_the_drone_at_once_and_are_remembered(stand: Stand) -> None:
    async with stand.opened(PracticeSettings(loudness_db=-18.0)) as pilot:
        await pilot.press("space", "plus", "minus", "minus")
        assert stand.engine.commands[1:] == [
            SetLoudness(-15.0),
            SetLoudness(-18.0),
            SetLoudness(-21.0),
        ]
        assert stand.remembered[-1].practice.loudness_db == -21.0


async def test_a_fault_before_the_drone_sounds_leads_back_to_the_choices(stand: Stand) -> None:
    stand.sound.fault = SoundFault("There is no microphone.", "Plug one in.", fatal=True)
    async with stand.opened() as pilot:
        await pilot.press("space")
        await settled(pilot)
        assert "There is no microphone. Plug one in." in screen_text(pilot)
        assert "Concert pitch" in screen_text(pilot)


async def test_an_engine_that_ended_is_started_again_by_the_next_take(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await settled(pilot)
        stand.engine.die()
        await settled(pilot)
        await pilot.press("space")
        await settled(pilot)
        assert len(stand.sound.engines) == 2
        assert stand.engine.commands == [StartTake(pilot.app.settings)]


async def test_the_take_goes_on_under_the_help_page(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [])
        await pilot.press("question_mark")
        stand.engine.end_note(72, 4.0)
        await settled(pilot)
        assert "Show the pitch while a note sounds" in screen_text(pilot)
        await pilot.press("escape")
        assert "4.0 cents sharp" in screen_text(pilot)


async def test_space_ends_the_take_and_the_worst_note_comes_first(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, TAKE_NOTES)
        await pilot.press("space")
        await settled(pilot)
        assert stand.engine.commands[-1] == EndTake()
        page = screen_text(pilot)
        assert "Next: C6, which was flat." in page
        assert page.index("C6  ") < page.index("D6  ") < page.index("A4  ")


async def test_a_take_without_a_note_says_what_to_do(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [])
        await pilot.press("space")
        await settled(pilot)
        assert "No note was held." in screen_text(pilot)


async def test_after_the_summary_one_key_plays_again_and_one_leads_back(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [(72, 4.0)])
        await pilot.press("space")
        await settled(pilot)
        await pilot.press("space")
        assert stand.engine.commands[-1] == StartTake(pilot.app.settings)
        await pilot.press("space")
        await settled(pilot)
        await pilot.press("escape")
        assert "Concert pitch" in screen_text(pilot)


async def test_the_keyboards_pedal_starts_a_take_ends_it_and_plays_again(stand: Stand) -> None:
    async with stand.opened() as pilot:
        stand.engine.heard(StepWanted())
        await settled(pilot)
        stand.engine.your_turn()
        stand.engine.end_note(69, 4.0)
        await settled(pilot)
        stand.engine.heard(StepWanted())
        await settled(pilot)
        assert [type(one) for one in stand.engine.commands] == [StartTake, EndTake]
        stand.engine.heard(StepWanted())
        await settled(pilot)
        assert isinstance(stand.engine.commands[-1], StartTake)


async def test_keys_of_a_keyboard_are_named_while_they_sound(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, [])
        assert "drone F4" in screen_text(pilot)
        tones = [DroneTone(60, "unison", 261.63, 0.0), DroneTone(67, "fifth", 392.44, -6.0)]
        stand.engine.heard(ReferenceChanged(Drone(tuple(tones))))
        await settled(pilot)
        assert "keys C4 G4" in screen_text(pilot)
        stand.engine.heard(ReferenceChanged(None))
        await settled(pilot)
        assert "no key sounds" in screen_text(pilot)
