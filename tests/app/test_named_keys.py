"""A sentence that names a key names the player's own, where the keys were changed."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from intonation.app.key_names import shown_keys
from intonation.app.key_table import PAGE_KEYS
from intonation.app.keys import EVERYWHERE, Key
from intonation.app.named_keys import with_own_names
from intonation.app.own_keys import OwnKeys
from intonation.app.page_openers import OPENERS
from intonation.app.practice_keys import PRACTICE
from intonation.app.screens.page import Page
from intonation.app.words import ABOUT_PAGES
from intonation.engine.check_bench import CheckBench
from intonation.engine.habit_record import HabitRecord
from intonation.engine.players import PlayersDesk
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.app.conftest import Stand, settled, words_on
from tests.app.test_sizes import all_pages
from tests.support.archives import full_record

SPARE = [*(f"f{n}" for n in range(3, 25)), *(f"ctrl+{letter}" for letter in "abdefgknorstuvwxyz")]
NOW = datetime(2041, 3, 14, tzinfo=UTC)


def is_moved(key: Key) -> bool:
    """Return whether the key has a name that a sentence may say; arrows and signs stay."""
    return key.shown.isalpha() and key.shown.isascii()


def everything_elsewhere() -> OwnKeys:
    own: dict[str, tuple[str, ...]] = {}
    for page in PAGE_KEYS:
        free = iter(SPARE)
        for key in (*page, *EVERYWHERE):
            if is_moved(key):
                own.setdefault(key.name, (next(free),))
    return own


def usual_keys_named(text: str, keys: tuple[Key, ...]) -> Iterator[str]:
    """Yield where a text names one of these keys, as a reader would understand it."""
    for key in filter(is_moved, keys):
        alone = rf"(?:^|[.;,:(] |press |Press |and |or |with ){key.shown}(?: [a-z]+s\b|\)| and )"
        named = rf"\b{key.shown}\b" if len(key.shown) > 1 else alone
        yield from (found.group() for found in re.finditer(named, text))


def test_a_key_is_named_as_the_player_has_it_and_a_note_stays_a_note() -> None:
    own = {"practice.start": ("f5", "x"), "practice.hear": ("space",), "practice.check": ("f6",)}
    said = with_own_names(
        "H quiets it; Space starts a take (C). C4 is middle C, and C is a note.", PRACTICE, own
    )
    assert said == "Space quiets it; F5 starts a take (F6). C4 is middle C, and F6 is a note."
    assert with_own_names("Space starts.", PRACTICE, {}) == "Space starts."


def test_of_two_keys_that_look_alike_a_sentence_means_its_own_pages() -> None:
    (page_key,) = (key for key in PRACTICE if key.name == "practice.contents")
    own_page = [key for page in PAGE_KEYS for key in page if key.shown == page_key.shown]
    (verdicts,) = (key for key in own_page if key.name.startswith("verdict."))
    own = {page_key.name: ("f9",)}
    assert with_own_names("M measures again.", (verdicts, page_key), own) == "M measures again."


@pytest.mark.parametrize("page", all_pages(), ids=lambda page: page.__name__)
def test_what_help_says_of_a_page_names_no_key_that_was_moved(page: type[Page]) -> None:
    if page.heading not in ABOUT_PAGES:
        return
    keys = (*page.keys, *page.common_keys)
    said = with_own_names(ABOUT_PAGES[page.heading], (*keys, *PRACTICE), everything_elsewhere())
    assert list(usual_keys_named(said, keys)) == []


@pytest.mark.parametrize("name", sorted(OPENERS))
async def test_no_page_names_a_usual_key_that_was_moved(stand: Stand, name: str) -> None:
    own = everything_elsewhere()
    with Store(None) as store:
        full_record(store)
        app = stand.app(
            PracticeSettings(player="wren"),
            own_keys=own,
            habits=lambda: HabitRecord(store, lambda: NOW),
            checks=lambda: CheckBench(store, lambda: NOW),
            players=lambda: PlayersDesk(store, lambda: NOW),
            traces=lambda: store.traces,
        )
        async with app.run_test(size=(120, 40)) as pilot:
            await settled(pilot)
            app.action_open(name)
            await settled(pilot)
            page = app.screen
            assert isinstance(page, Page)
            first = next(key for key in page.keys if key.in_key_line and key.name in own)
            assert f"{shown_keys(own[first.name])} {first.label}" in words_on(pilot)
            seen = []
            for _ in range(12):
                await pilot.press("down")
                seen.append(words_on(pilot))
            app.action_help()
            await settled(pilot)
            seen.append(words_on(pilot))
            for text in seen:
                assert list(usual_keys_named(text, (*page.keys, *page.common_keys))) == []
