from collections import Counter

import pytest

from intonation.app.contents_keys import CONTENTS
from intonation.app.exercise_keys import EXERCISES, IMPORT, MELODY, TEMPERAMENTS
from intonation.app.first_run_keys import SET_UP
from intonation.app.habit_keys import HABIT_NOTE, HABITS
from intonation.app.keys import EVERYWHERE, HELP, Key
from intonation.app.players_keys import COMPARED, PLAYERS
from intonation.app.practice_keys import PRACTICE
from intonation.app.print_keys import PRINT
from intonation.app.screens.contents import ContentsPage
from intonation.app.sound_keys import SOUND
from intonation.app.take_keys import SUMMARY, TAKE
from intonation.app.today_keys import TODAY
from intonation.app.trace_keys import TRACES
from intonation.app.widgets.key_line import key_line
from intonation.app.workshop_keys import CONSORT, FINGERINGS, PREDICTION, TRIALS, WORKSHOP
from tests.app.conftest import TAKE_NOTES, Stand, play_take, screen_text, settled

PAGES = {
    "practice": PRACTICE,
    "take": TAKE,
    "summary": SUMMARY,
    "sound": SOUND,
    "exercises": EXERCISES,
    "import": IMPORT,
    "melody": MELODY,
    "temperaments": TEMPERAMENTS,
    "fingerings": FINGERINGS,
    "workshop": WORKSHOP,
    "prediction": PREDICTION,
    "trials": TRIALS,
    "consort": CONSORT,
    "print": PRINT,
    "habits": HABITS,
    "habit": HABIT_NOTE,
    "contents": CONTENTS,
    "today": TODAY,
    "set-up": SET_UP,
    "traces": TRACES,
    "players": PLAYERS,
    "compared": COMPARED,
}


@pytest.mark.parametrize("keys", [*PAGES.values(), HELP], ids=[*PAGES, "help"])
def test_no_key_does_two_things_on_one_page(keys: tuple[Key, ...]) -> None:
    common = EVERYWHERE if keys is not HELP else EVERYWHERE[1:]
    counted = Counter(key for entry in (*keys, *common) for key in entry.keys)
    assert max(counted.values()) == 1


@pytest.mark.parametrize("keys", PAGES.values(), ids=PAGES)
def test_the_key_line_fits_eighty_columns(keys: tuple[Key, ...]) -> None:
    shown = [key for key in (*keys, *EVERYWHERE) if key.in_key_line]
    line = key_line(shown, width=76)
    assert line.cell_length <= 76
    assert [key.label for key in shown if key.label not in line.plain] == []


async def test_in_a_narrow_window_the_key_line_still_leads_back_and_to_the_help(
    stand: Stand,
) -> None:
    async with stand.opened() as pilot:
        await pilot.press("w")
        await pilot.resize_terminal(46, 24)
        await settled(pilot)
        last_line = screen_text(pilot).splitlines()[-1]
        assert "Enter Predict" in last_line
        assert last_line.strip().endswith("Esc Back  ? Help  Q Quit")


@pytest.mark.parametrize(
    ("presses", "keys"),
    [([], PRACTICE), (["space"], TAKE), (["s"], SOUND), (["e"], EXERCISES), (["t"], TEMPERAMENTS)],
    ids=str,
)
async def test_help_lists_every_key_of_the_page(
    stand: Stand, presses: list[str], keys: tuple[Key, ...]
) -> None:
    async with stand.opened(size=(120, 40)) as pilot:
        await pilot.press(*presses, "question_mark")
        await settled(pilot)
        page = screen_text(pilot)
        for key in (*keys, *EVERYWHERE):
            assert f"{key.shown}    {key.explanation}" in page


async def test_every_key_of_a_page_can_be_found_by_its_words(stand: Stand) -> None:
    async with stand.opened() as pilot:
        await play_take(stand, pilot, TAKE_NOTES)
        offered = {command.title for command in pilot.app.get_system_commands(pilot.app.screen)}
        assert offered == {key.label for key in (*TAKE, *EVERYWHERE) if key.name != "commands"}
        await pilot.press("ctrl+p")
        await settled(pilot)
        await pilot.press(*"show pitch", "enter")
        await settled(pilot)
        assert "The pitch shows here" in screen_text(pilot)


async def test_letters_work_with_caps_lock_on(stand: Stand) -> None:
    async with stand.app().run_test(size=(80, 24)) as pilot:
        await pilot.press("M")
        await settled(pilot)
        assert isinstance(pilot.app.screen, ContentsPage)
