from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from intonation.app.exercise_plan import HARMONIES, MOST_ROUNDS, ExercisePlan
from intonation.app.printing.music import played_music
from intonation.app.screens.exercises import ExercisesPage
from intonation.app.widgets.typed_value import TypedValue
from intonation.engine.messages import EndTake, SetLoudness, SoundSettings, StartMelody
from intonation.exercise.library import exercise_named, library
from intonation.exercise.writing import exercise_text
from intonation.pitch.notes import note_name
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import Stand, press, screen_text, settled
from tests.support.music_samples import STANDARD_MIDI_EXAMPLE, lead_sheet

INNSBRUCK = ExercisePlan.of(exercise_named("innsbruck"))
SETTINGS = PracticeSettings()


async def play(stand: Stand, pilot, plan: ExercisePlan = INNSBRUCK) -> None:
    pilot.app.takes.start_melody(plan)
    await settled(pilot)


async def test_the_library_lists_every_exercise_and_says_what_to_listen_for(stand: Stand) -> None:
    async with stand.opened(size=(120, 60)) as pilot:
        await pilot.press("e")
        await settled(pilot)
        page = pilot.app.screen
        assert isinstance(page, ExercisesPage)
        names = {option.id for option in page.titles.options if option.id}
        assert names == {exercise.name for exercise in library()}
        first = page.plan.exercise
        assert first.title in screen_text(pilot)
        assert first.listen.split(";")[0][:30] in screen_text(pilot)


async def test_an_exercise_is_played_as_it_was_set_up(stand: Stand) -> None:
    async with stand.opened(PracticeSettings(instrument="tenor", a4_hz=415.0)) as pilot:
        await pilot.press("e", "down", "right", "r", "space")
        await settled(pilot)
        (command,) = stand.engine.commands
        assert isinstance(command, StartMelody)
        assert command.rounds == 2
        marked = library()[1]
        assert command.score.exercise == marked.name
        assert command.score.tempo == marked.tempo + 4.0
        assert stand.takes == [command.settings]


async def test_chords_are_tuned_as_chosen_and_stay_so_for_the_next_exercise(stand: Stand) -> None:
    vallotti = PracticeSettings(temperament="vallotti")
    async with stand.opened(vallotti, size=(120, 40)) as pilot:
        await pilot.press("e", "c", "c")
        assert "the roots adapt" in screen_text(pilot)
        pilot.app.screen.titles.highlighted = pilot.app.screen.titles.get_option_index("innsbruck")
        await pilot.press("space")
        await settled(pilot)
        (command,) = stand.engine.commands
        origins = {note.target.origin for note in command.score.notes}
        assert "chord" in origins


async def test_bars_are_counted_in_as_chosen_also_before_the_next_exercise(stand: Stand) -> None:
    async with stand.opened(size=(120, 40)) as pilot:
        await pilot.press("e")
        await settled(pilot)
        assert "4 beats, as written" in screen_text(pilot)
        await pilot.press("n", "n", "n", "down")
        await settled(pilot)
        assert "8 beats" in screen_text(pilot)
        await pilot.press("space")
        await settled(pilot)
        (command,) = stand.engine.commands
        assert command.score.count_in_s == pytest.approx(8 * 60.0 / command.score.tempo)


def test_without_a_count_in_the_first_note_comes_at_once() -> None:
    assert INNSBRUCK.with_next_count_in().score(SETTINGS, seed=1).notes[0].start_s == 0.0
    assert INNSBRUCK.score(SETTINGS, seed=1).notes[0].start_s > 0.0


def test_pure_chords_adapting_chords_and_tempered_ones_sound_differently() -> None:
    tempered = PracticeSettings(temperament="vallotti")
    plan, sounding = INNSBRUCK, []
    for _ in HARMONIES:
        sounding.append({round(tone.hz, 6) for tone in plan.score(tempered, seed=0).reference})
        plan = plan.with_next_harmony()
    assert plan == INNSBRUCK
    as_chosen, pure, adapting, by_temperament = sounding
    assert as_chosen == by_temperament
    assert len({frozenset(one) for one in sounding}) == 3
    assert pure != adapting


class TestMusicOfOnesOwn:
    @pytest.fixture
    def stand(self, tmp_path: Path) -> Stand:
        return Stand(exercises_folder=tmp_path / "exercises")

    async def enter(self, pilot: Pilot[int], path: Path) -> None:
        pilot.app.screen.query_one(TypedValue).value = str(path)
        await pilot.press("enter")
        await settled(pilot)

    async def test_a_midi_file_becomes_an_exercise_that_is_kept_listed_and_played(
        self, stand: Stand, tmp_path: Path
    ) -> None:
        music = tmp_path / "Garden song.mid"
        music.write_bytes(STANDARD_MIDI_EXAMPLE)
        async with stand.opened() as pilot:
            await pilot.press("e", "i")
            await self.enter(pilot, music)
            assert "Which part do you play?" in screen_text(pilot)
            await pilot.press("down", "enter")
            await settled(pilot)
            assert "▸" not in screen_text(pilot)
            assert "Your own" in screen_text(pilot)
            await pilot.press("space")
            await settled(pilot)
            (command,) = stand.engine.commands
            # the standard's own example: channel 2 has G4, from the second beat to the fifth
            assert [note.target.midi % 12 for note in command.score.notes] == [7]
        kept = (stand.exercises_folder / "garden-song.toml").read_text("utf-8")
        assert "Imported from Garden song.mid" in kept

    async def test_the_page_has_its_help(self, stand: Stand) -> None:
        async with stand.opened(size=(120, 40)) as pilot:
            await pilot.press("e", "i", "f1")
            await settled(pilot)
            assert "take the marked part as the melody" in screen_text(pilot)

    async def test_music_with_one_part_needs_no_choice(self, stand: Stand, tmp_path: Path) -> None:
        pytest.importorskip("defusedxml")
        music = tmp_path / "innsbruck.musicxml"
        music.write_bytes(lead_sheet())
        async with stand.opened() as pilot:
            await pilot.press("e", "i")
            await self.enter(pilot, music)
            assert isinstance(pilot.app.screen, ExercisesPage)
            # the library has an exercise of this name already
            assert pilot.app.screen.plan.exercise.name == "innsbruck-2"
            assert pilot.app.screen.plan.exercise.title == "A tune"

    async def test_a_mistake_is_said_in_place_and_another_file_can_be_typed(
        self, stand: Stand, tmp_path: Path
    ) -> None:
        broken = tmp_path / "broken.mid"
        broken.write_bytes(b"MThd and no more")
        async with stand.opened() as pilot:
            await pilot.press("e", "i")
            await self.enter(pilot, tmp_path / "nothing.mid")
            assert "cannot be read" in screen_text(pilot)
            await self.enter(pilot, broken)
            assert "broken.mid is not a sound MIDI file" in " ".join(screen_text(pilot).split())
            await pilot.press("escape")
            await settled(pilot)
            assert isinstance(pilot.app.screen, ExercisesPage)
        assert not stand.exercises_folder.exists()

    async def test_a_file_with_a_mistake_is_named_and_the_others_are_listed(
        self, stand: Stand
    ) -> None:
        stand.exercises_folder.mkdir()
        (stand.exercises_folder / "bad.toml").write_text("titel = 3\n")
        good = replace(exercise_named("innsbruck"), title="My Innsbruck")
        (stand.exercises_folder / "innsbruck.toml").write_text(exercise_text(good), "utf-8")
        async with stand.opened(size=(120, 60)) as pilot:
            await pilot.press("e")
            await settled(pilot)
            page = pilot.app.screen
            assert "bad.toml, line 1" in screen_text(pilot)
            assert page.titles.options[-1].id == "own/innsbruck"
            page.titles.highlighted = len(page.titles.options) - 1
            await settled(pilot)
            assert page.plan.exercise.title == "My Innsbruck"


async def test_one_phrase_can_be_played_alone() -> None:
    whole = INNSBRUCK.score(SETTINGS, seed=0)
    one = INNSBRUCK.with_next_phrase().with_next_phrase()
    assert one.phrase == 1
    names = [note.target.midi for note in one.score(SETTINGS, seed=0).notes]
    assert names == [note.target.midi for note in whole.notes if note.phrase == 1]


def test_after_the_last_phrase_and_the_most_rounds_all_begins_again() -> None:
    plan = INNSBRUCK
    for _ in range(len(plan.exercise.phrases) + 1):
        plan = plan.with_next_phrase()
    for _ in range(MOST_ROUNDS):
        plan = plan.with_next_rounds()
    assert plan == INNSBRUCK


@pytest.mark.parametrize("exercise", library(), ids=lambda exercise: exercise.name)
def test_every_exercise_can_be_set_up_on_the_alto_at_any_tempo(exercise) -> None:
    plan = ExercisePlan.of(exercise).faster(-1000.0).with_other_melody()
    assert plan.score(SETTINGS, seed=3).notes
    assert plan.faster(1000.0).score(SETTINGS, seed=3).notes


TOO_WIDE = """title = "From bottom to top"
kind = "melody"
listen = "Every register."

[[phrase]]
notes = "C4:4 C7:4"
drone = "C4"
"""


async def test_music_that_does_not_fit_is_said_in_place(tmp_path: Path) -> None:
    stand = Stand(exercises_folder=tmp_path)
    (tmp_path / "too-wide.toml").write_text(TOO_WIDE, "utf-8")
    async with stand.opened() as pilot:
        await press(pilot, "e", "up")
        assert "From bottom to top" in screen_text(pilot)
        page = await press(pilot, "space")
        assert "spans C4 to C7, which is wider than the instrument" in page
        assert stand.engine.commands == []


async def test_while_a_phrase_is_played_the_page_follows_the_time_and_not_the_pitch(
    stand: Stand,
) -> None:
    async with stand.opened() as pilot:
        await play(stand, pilot)
        assert "count-in" in screen_text(pilot)
        stand.engine.note_due(0)
        await settled(pilot)
        before = pilot.app.export_screenshot()
        stand.engine.begin_note()
        stand.engine.read_pitch(69, 30.0)
        await settled(pilot)
        assert pilot.app.export_screenshot() == before


async def test_after_a_phrase_the_cents_stand_under_its_notes(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play(stand, pilot)
        stand.engine.note_due(0)
        scored = stand.engine.end_phrase(0, [3, -12, 8, 1, -2, 14, 5])
        stand.engine.note_due(8)
        await settled(pilot)
        page = screen_text(pilot)
        assert "Play phrase 2 of 6" in page
        assert "+3   −12  +8   +1   −2   +14  +5" in page
        assert "was not heard" in page
        assert stand.kept == [scored]


async def test_the_end_says_what_is_next_and_leads_back_to_the_same_exercise(
    stand: Stand,
) -> None:
    async with stand.opened() as pilot:
        await play(stand, pilot)
        stand.engine.note_due(0)
        stand.engine.end_melody([20.0] * 8)
        await settled(pilot)
        assert "Next: stay on" in screen_text(pilot)
        await pilot.press("escape")
        await settled(pilot)
        assert pilot.app.screen.plan == INNSBRUCK
        assert "Innsbruck" in screen_text(pilot)


async def test_keys_end_an_exercise_and_change_its_loudness(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play(stand, pilot)
        await pilot.press("plus", "space")
        assert stand.engine.commands[1:] == [SetLoudness(-15.0), EndTake()]


async def test_places_to_breathe_are_marked(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play(stand, pilot)
        stand.engine.note_due(0)
        await settled(pilot)
        breaths = [note for note in stand.engine.melody.score.notes if note.breathe_after]
        last = note_name(breaths[0].target.midi)
        assert f"{last} ’" in screen_text(pilot)


def test_every_note_of_a_played_phrase_is_printed_with_its_cents(stand: Stand) -> None:
    score = INNSBRUCK.score(SETTINGS, seed=0)
    stand.sound(SoundSettings(), lambda _: None)
    stand.engine.send(StartMelody(score, SETTINGS))
    phrase = stand.engine.end_phrase(0, [12.0] * 8).score
    printed = played_music(phrase, tempo=score.tempo, width=40).plain
    assert printed.count("+12") == 8
    for each in phrase.notes:
        assert note_name(each.note.target.midi) in printed
    assert max(map(len, printed.splitlines())) <= 40
