"""An archive carries what each instrument is, and a name that has changed doubles nothing."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from intonation.engine.archiving import export_player, import_file
from intonation.instruments.own_instrument import OwnInstrument
from intonation.store.store import Store
from tests.support.archives import WRITTEN_AT, everything_of
from tests.support.own_instruments import PEARWOOD, SCHOOL, play

WITHOUT_INSTRUMENTS = Path(__file__).parents[1] / "golden" / "archive_without_instruments.zip"
"""An archive as the program wrote it before it carried instruments."""
ALTO = OwnInstrument(name="alto", size="alto")


@pytest.fixture
def pupil() -> Iterator[Store]:
    with Store(None) as store:
        yield store


@pytest.fixture
def teacher() -> Iterator[Store]:
    with Store(None) as store:
        yield store


def sent(store: Store, folder: Path, name: str = "wren.zip") -> Path:
    export_player(store, "wren", folder / name, written_at=WRITTEN_AT)
    return folder / name


def test_size_fingering_pitch_and_notes_come_with_an_instrument(
    pupil: Store, teacher: Store, tmp_path: Path
) -> None:
    pupil.instruments.keep(SCHOOL)
    play(pupil, SCHOOL)
    play(pupil, PEARWOOD)
    archive = sent(pupil, tmp_path)
    import_file(teacher, archive)
    import_file(teacher, archive)
    assert teacher.instruments.all() == (PEARWOOD, SCHOOL)
    assert everything_of(teacher, "wren") == everything_of(pupil, "wren")


def test_an_instrument_renamed_between_two_archives_is_not_doubled(
    pupil: Store, teacher: Store, tmp_path: Path
) -> None:
    play(pupil, ALTO, cents=(5.0, 6.0))
    first = sent(pupil, tmp_path, "first.zip")
    pupil.instruments.rename("wren", ALTO, "pearwood alto")
    play(pupil, ALTO, session="on another alto", cents=(-3.0,))
    play(pupil, PEARWOOD, session="next day", cents=(7.0,))
    second = sent(pupil, tmp_path, "second.zip")
    for archive in (first, second, first):
        import_file(teacher, archive)
    assert everything_of(teacher, "wren") == everything_of(pupil, "wren")


def test_an_older_archive_finds_the_notes_under_the_later_name(
    pupil: Store, tmp_path: Path
) -> None:
    play(pupil, ALTO, cents=(5.0, 6.0))
    archive = sent(pupil, tmp_path)
    pupil.instruments.rename("wren", ALTO, "pearwood alto")
    before = everything_of(pupil, "wren")
    import_file(pupil, archive)
    assert everything_of(pupil, "wren") == before
    assert [one.name for one in pupil.instruments.all()] == ["pearwood alto"]


def test_an_instrument_of_the_same_name_and_another_size_stays_another_instrument(
    pupil: Store, teacher: Store, tmp_path: Path
) -> None:
    play(teacher, OwnInstrument(name="school recorder", size="alto"), player="heron")
    play(pupil, OwnInstrument(name="school recorder", size="tenor"))
    archive = sent(pupil, tmp_path)
    for _ in range(2):
        import_file(teacher, archive)
    assert {(note.player, note.instrument) for note in teacher.held_notes()} == {
        ("heron", "school recorder"),
        ("wren", "school recorder (tenor)"),
    }
    assert sum(1 for _ in teacher.held_notes(player="wren")) == 1


def test_an_archive_without_instruments_still_tells_the_sizes_of_its_checks(
    teacher: Store,
) -> None:
    imported = import_file(teacher, WITHOUT_INSTRUMENTS)
    assert imported.merged.added["held-notes"] == sum(1 for _ in teacher.held_notes())
    sizes = {one.name: one.size for one in teacher.instruments.all()}
    assert sizes == {"alto": "alto", "tenor": "tenor", "pearwood": "alto", "plum wood": "tenor"}
