"""How fast the practice record is when it holds the notes of many years."""

import random
from collections.abc import Iterator

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from intonation.store.store import Store
from tests.store.test_store import a_note

HELD_NOTES = 700_000
NOTES_OF_A_SITTING = 60
SITTINGS_OF_A_PLAYER = 1_000


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """A record of a dozen players with a thousand sittings each."""
    chance = random.Random(1)
    with Store(tmp_path_factory.mktemp("record") / "practice.sqlite") as store:
        store.add_held_notes(
            a_note(
                midi=65 + number % 27,
                cents=chance.gauss(0.0, 8.0),
                player=f"player {number // (NOTES_OF_A_SITTING * SITTINGS_OF_A_PLAYER)}",
                session=f"sitting {number // NOTES_OF_A_SITTING}",
            )
            for number in range(HELD_NOTES)
        )
        yield store


def test_keeping_a_note(store: Store, benchmark: BenchmarkFixture) -> None:
    benchmark(store.add_held_note, a_note())


def test_the_means_of_a_player(store: Store, benchmark: BenchmarkFixture) -> None:
    assert len(benchmark(store.note_summaries, player="player 7")) == 27


def test_the_latest_notes(store: Store, benchmark: BenchmarkFixture) -> None:
    assert len(benchmark(lambda: list(store.held_notes(last=20)))) == 20


def test_the_notes_of_a_sitting(store: Store, benchmark: BenchmarkFixture) -> None:
    found = benchmark(lambda: list(store.held_notes(session="sitting 9000")))
    assert len(found) == NOTES_OF_A_SITTING
