import pytest

from intonation.app.exercise_plan import MOST_ROUNDS, ExercisePlan
from intonation.app.printing.music import played_music
from intonation.app.screens.exercises import ExercisesPage
from intonation.engine.messages import EndTake, SetLoudness, SoundSettings, StartMelody
from intonation.errors import SettingsError
from intonation.exercise.library import exercise_named, library
from intonation.pitch.notes import note_name
from intonation.practice.settings import PracticeSettings
from tests.app.conftest import Stand, screen_text, settled

INNSBRUCK = ExercisePlan.of(exercise_named("innsbruck"))
SETTINGS = PracticeSettings()


async def play(stand: Stand, pilot, plan: ExercisePlan = INNSBRUCK) -> None:
    pilot.app.start_melody(plan)
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


async def test_music_that_does_not_fit_is_said_in_place(
    stand: Stand, monkeypatch: pytest.MonkeyPatch
) -> None:
    def too_wide(*_: object, **__: object) -> None:
        raise SettingsError("The music is wider than the alto.", "Choose another exercise.")

    async with stand.opened() as pilot:
        await pilot.press("e")
        monkeypatch.setattr(ExercisePlan, "score", too_wide)
        await pilot.press("space")
        await settled(pilot)
        assert "wider than the alto" in " ".join(screen_text(pilot).split())
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
