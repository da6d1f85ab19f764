"""A typed name finds its instrument, and what belongs to an instrument goes with its name."""

from pathlib import Path

import pytest

from intonation.engine.instrument_desk import InstrumentDesk
from intonation.errors import SettingsError
from intonation.instruments.own_instrument import OwnInstrument
from intonation.store.own_geometries import OwnGeometries
from intonation.store.store import Store
from tests.support.own_instruments import PEARWOOD, SCHOOL, play


def desk_with(*instruments: OwnInstrument, file: Path | None = None) -> InstrumentDesk:
    store = Store(None)
    for instrument in instruments:
        store.instruments.keep(instrument)
        play(store, instrument)
    return InstrumentDesk(store.instruments, None if file is None else OwnGeometries(file))


def test_a_maker_s_drawing_goes_with_an_instrument_that_gets_another_name(tmp_path: Path) -> None:
    desk = desk_with(PEARWOOD, file=tmp_path / "geometries.toml")
    assert desk.geometries is not None
    desk.geometries.remember("pearwood alto", Path("alto-415.toml"))
    desk.renamed("wren", PEARWOOD, "concert alto")
    assert desk.geometries.file_of("concert alto") == Path("alto-415.toml")


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("school tenor 2", "tenor"),
        ("Grandfather's Great Bass", "great bass"),
        ("treble by the door", "alto"),
        ("the plum one", "soprano"),
    ],
)
def test_a_name_that_speaks_of_a_size_is_of_that_size(name: str, size: str) -> None:
    assert desk_with().added(name, usual_size="soprano").size == size


@pytest.mark.parametrize("name", ["  ", "Pearwood ALTO", "x" * 41])
def test_a_name_that_cannot_be_used_is_answered_and_nothing_is_kept(name: str) -> None:
    desk = desk_with(PEARWOOD)
    with pytest.raises(SettingsError):
        desk.added(name, usual_size="alto")
    assert desk.instruments.all() == (PEARWOOD,)


def test_the_nearest_names_are_those_that_hold_what_was_typed() -> None:
    desk = desk_with(PEARWOOD, SCHOOL)
    with pytest.raises(SettingsError, match="Choose from: pearwood alto\\."):
        desk.found("pear")
    with pytest.raises(SettingsError, match="Choose from: school alto 3"):
        desk.found("scool alto 3")
