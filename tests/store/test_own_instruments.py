"""Instruments are known by names of their own, and older records lose nothing by it."""

import gzip
from datetime import UTC, datetime
from pathlib import Path

import pytest

from intonation.errors import SettingsError
from intonation.instruments.own_instrument import OwnInstrument
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store
from tests.support.own_instruments import PEARWOOD, SCHOOL, play

OLDER = Path(__file__).parents[1] / "golden" / "record_version_5.sqlite.gz"
"""A record as the program wrote it before instruments had anything but a name."""
EVENING = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)


def test_two_altos_are_told_apart_by_their_names() -> None:
    with Store(None) as store:
        for instrument in (SCHOOL, PEARWOOD):
            store.instruments.keep(instrument)
        play(store, PEARWOOD, cents=(4.0, 6.0))
        play(store, SCHOOL, cents=(-9.0,))
        assert store.instruments.all() == (PEARWOOD, SCHOOL)
        assert len(list(store.held_notes(instrument="pearwood alto"))) == 2
        assert len(list(store.held_notes(instrument="school alto 3"))) == 1


def test_an_instrument_that_is_played_is_known_without_being_described() -> None:
    with Store(None) as store:
        settings = PracticeSettings(
            player="wren", instrument="boxwood", size="tenor", fingering_system="german"
        )
        store.begin_take("evening", settings=settings, began_at=EVENING)
        (known,) = store.instruments.all()
        assert known == OwnInstrument(name="boxwood", size="tenor", fingering_system="german")


def test_a_player_is_offered_their_own_instruments_and_not_another_players() -> None:
    with Store(None) as store:
        play(store, PEARWOOD, player="wren")
        play(store, SCHOOL, player="heron")
        new = OwnInstrument(name="plum tenor", size="tenor")
        store.instruments.keep(new)
        assert [one.name for one in store.instruments.of("wren")] == ["pearwood alto", "plum tenor"]
        assert [one.name for one in store.instruments.of("heron")] == [
            "school alto 3",
            "plum tenor",
        ]


def test_a_name_is_found_however_its_capitals_and_spaces_are_typed() -> None:
    with Store(None) as store:
        store.instruments.keep(PEARWOOD)
        assert store.instruments.named(" Pearwood  ALTO ") == PEARWOOD
        assert store.instruments.named("pear") is None


def test_notes_go_with_an_instrument_that_gets_another_name() -> None:
    with Store(None) as store:
        alto = OwnInstrument(name="alto", size="alto")
        play(store, alto, player="wren", cents=(5.0, 6.0))
        play(store, alto, player="heron", cents=(7.0,))
        store.instruments.rename("wren", alto, "pearwood alto")
        named = [(note.player, note.instrument) for note in store.held_notes()]
        assert named == [("wren", "pearwood alto"), ("wren", "pearwood alto"), ("heron", "alto")]
        assert store.instruments.named("pearwood alto") == PEARWOOD


def test_two_instruments_cannot_come_to_have_one_name() -> None:
    with Store(None) as store:
        play(store, PEARWOOD)
        play(store, SCHOOL)
        with pytest.raises(SettingsError, match="already"):
            store.instruments.rename("wren", SCHOOL, "pearwood alto")
        assert len(store.instruments.all()) == 2


def test_only_an_instrument_without_notes_can_be_forgotten() -> None:
    with Store(None) as store:
        store.instruments.keep(SCHOOL)
        play(store, PEARWOOD)
        store.instruments.forget("school alto 3")
        with pytest.raises(SettingsError, match="Notes are kept"):
            store.instruments.forget("pearwood alto")
        assert [one.name for one in store.instruments.all()] == ["pearwood alto"]


def test_an_older_record_keeps_its_notes_and_tells_the_sizes_it_knew(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"
    path.write_bytes(gzip.decompress(OLDER.read_bytes()))
    with Store(path) as store:
        assert {one.name: one.size for one in store.instruments.all()} == {
            "alto": "alto",
            "tenor": "tenor",
            "pearwood": "alto",
            "plum wood": "tenor",
        }
        assert sum(1 for _ in store.held_notes()) == 40
        assert len(store.trials.all(instrument="alto")) == 1
        store.check()
