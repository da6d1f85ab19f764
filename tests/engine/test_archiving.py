"""A pupil's archive is merged without loss and without doubles, or refused as a whole."""

import io
import json
import zipfile
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intonation.engine.archiving import export_player, import_file
from intonation.errors import DataFileError, SettingsError
from intonation.heldnotes.exchange import held_notes_csv, rows_in
from intonation.heldnotes.row import HeldNoteRow
from intonation.store.store import Store
from tests.store.test_store import ROWS
from tests.support.archives import (
    WRITTEN_AT,
    everything_of,
    full_record,
    rewritten,
    with_cell,
)


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("archive") / "wren.zip"
    with Store(None) as store:
        full_record(store)
        export_player(store, "wren", path, written_at=WRITTEN_AT)
    return path


@pytest.fixture
def pupil() -> Iterator[Store]:
    with Store(None) as store:
        full_record(store)
        yield store


@pytest.fixture
def teacher() -> Iterator[Store]:
    with Store(None) as store:
        yield store


def test_what_was_exported_is_there_after_the_import(
    archive: Path, pupil: Store, teacher: Store
) -> None:
    imported = import_file(teacher, archive)
    assert imported.players == ("wren",)
    assert everything_of(teacher, "wren") == everything_of(pupil, "wren")
    assert imported.merged.added["held-notes"] == 56
    assert not any(imported.merged.known.values())
    assert everything_of(teacher, "heron")["held_notes"] == []


def test_importing_twice_is_importing_once(archive: Path, teacher: Store) -> None:
    import_file(teacher, archive)
    once = everything_of(teacher, "wren")
    again = import_file(teacher, archive)
    assert everything_of(teacher, "wren") == once
    assert not any(again.merged.added.values())
    assert again.merged.known["held-notes"] == 56


def test_a_later_archive_adds_only_what_is_new(archive: Path, tmp_path: Path) -> None:
    with Store(None) as pupil, Store(None) as teacher:
        full_record(pupil, sittings=2)
        export_player(pupil, "wren", tmp_path / "early.zip", written_at=WRITTEN_AT)
        import_file(teacher, tmp_path / "early.zip")
        early = {row.cents for row in teacher.held_notes()}
        row = HeldNoteRow(
            event=0, player="wren", instrument="alto", session="new", midi=69, cents=77.7
        )
        pupil.add_held_note(row)
        export_player(pupil, "wren", tmp_path / "late.zip", written_at=WRITTEN_AT)
        later = import_file(teacher, tmp_path / "late.zip")
        assert later.merged.added == {"held-notes": 1, "sessions": 1}
        assert {row.cents for row in teacher.held_notes()} == early | {77.7}


@given(ones=st.lists(st.integers(0, 3), max_size=6), others=st.lists(st.integers(0, 3), max_size=6))
@settings(max_examples=25, deadline=None)
def test_both_ways_round_two_records_come_to_hold_the_same(
    ones: list[int], others: list[int], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """As the union of multisets (collections.Counter) has it."""
    folder = tmp_path_factory.mktemp("both")
    with Store(None) as one, Store(None) as other:
        for store, cents in ((one, ones), (other, others)):
            store.begin_session("evening", player="wren", instrument="alto", began_at=WRITTEN_AT)
            for value in cents:
                store.add_held_note(
                    HeldNoteRow(
                        event=0,
                        player="wren",
                        instrument="alto",
                        session="evening",
                        midi=69,
                        cents=float(value),
                    )
                )
        export_player(one, "wren", folder / "one.zip", written_at=WRITTEN_AT)
        export_player(other, "wren", folder / "other.zip", written_at=WRITTEN_AT)
        import_file(one, folder / "other.zip")
        import_file(other, folder / "one.zip")
        for store in (one, other):
            kept = Counter(round(row.cents) for row in store.held_notes())
            assert kept == Counter(ones) | Counter(others)


def test_a_pupil_can_be_given_another_name_here(archive: Path, teacher: Store) -> None:
    imported = import_file(teacher, archive, as_player="wren of the Tuesday group")
    assert imported.players == ("wren of the Tuesday group",)
    assert {row.player for row in teacher.held_notes()} == {"wren of the Tuesday group"}
    import_file(teacher, archive, as_player="wren of the Tuesday group")
    assert len(list(teacher.held_notes())) == 56


@given(rows=st.lists(ROWS, max_size=8))
@settings(max_examples=25, deadline=None)
def test_any_note_at_all_survives_the_way_there_and_a_second_import(
    rows: list[HeldNoteRow], tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("any")
    with Store(None) as pupil, Store(None) as teacher:
        pupil.add_held_notes(rows)
        kept = list(pupil.held_notes())
        for number, player in enumerate({row.player for row in rows}):
            path = folder / f"{number}.zip"
            try:
                export_player(pupil, player, path, written_at=WRITTEN_AT)
                import_file(teacher, path)
                import_file(teacher, path)
            except DataFileError:
                # names of blanks alone and cents beyond an octave are no rows of the table
                assert _not_in_the_table(kept)
                return
        assert sorted(map(_said, teacher.held_notes())) == sorted(map(_said, kept))


def _said(row: HeldNoteRow) -> str:
    return repr([getattr(row, name) for name in HeldNoteRow.__slots__ if name != "event"])


def _not_in_the_table(rows: list[HeldNoteRow]) -> bool:
    try:
        return list(rows_in(io.StringIO(held_notes_csv(rows)), file_name="t")) != rows
    except DataFileError:
        return True


def test_the_held_notes_in_an_archive_are_the_exchange_table(archive: Path, pupil: Store) -> None:
    with zipfile.ZipFile(archive) as opened:
        lines = io.StringIO(opened.read("held-notes.csv").decode(), newline="")
        assert list(rows_in(lines, file_name="t")) == list(pupil.held_notes(player="wren"))


def test_a_table_of_another_program_is_merged_in_the_same_way(
    tmp_path: Path, teacher: Store, pupil: Store
) -> None:
    path = tmp_path / "notes.csv"
    path.write_text(held_notes_csv(pupil.held_notes()), "utf-8")
    first = import_file(teacher, path)
    assert set(first.players) == {"wren", "heron"}
    assert first.merged.added["held-notes"] == len(list(pupil.held_notes()))
    second = import_file(teacher, path)
    assert not second.merged.added["held-notes"]


def test_an_archive_adds_to_notes_that_came_from_a_table_what_the_table_lacks(
    tmp_path: Path, archive: Path, teacher: Store, pupil: Store
) -> None:
    path = tmp_path / "notes.csv"
    path.write_text(held_notes_csv(pupil.held_notes(player="wren")), "utf-8")
    import_file(teacher, path)
    assert teacher.traces.takes() == ()
    import_file(teacher, archive)
    assert everything_of(teacher, "wren") == everything_of(pupil, "wren")


def test_a_table_of_several_players_cannot_become_one_player(
    tmp_path: Path, teacher: Store, pupil: Store
) -> None:
    path = tmp_path / "notes.csv"
    path.write_text(held_notes_csv(pupil.held_notes()), "utf-8")
    with pytest.raises(DataFileError, match="several players"):
        import_file(teacher, path, as_player="wren")
    assert list(teacher.held_notes()) == []


@pytest.mark.parametrize(
    ("member", "old", "new", "told"),
    [
        ("held-notes.csv", ",65,", ",sharp,", 'held-notes.csv, row 2, column "midi": "sharp"'),
        ("held-notes.csv", "wren,", "heron,", "the archive is of wren"),
        ("takes.csv", "440.0", "-1", 'takes.csv, row 2, column "a4_hz": "-1" is not a frequency'),
        ("takes.csv", "Z,", ",", 'column "began_at"'),
        ("takes.csv", "take,", "tacet,", 'the header has no column "take"'),
        ("traces.csv", "0.025,", "0,", 'traces.csv, row 2, column "step_s"'),
        ("traces.csv", "-2", "1 -2", "have not as many points"),
        ("trial-works.csv", "tape over part of a hole", "burn it", 'column "work": "burn it"'),
        ("check-notes.csv", "1,1,0", "1,77,0", "there is no 77 in checks.csv"),
        ("listening-answers.csv", "low", "lowest", 'column "register": "lowest"'),
    ],
    ids=lambda value: str(value)[:24],
)
def test_a_mistake_is_named_by_file_row_and_column_and_nothing_is_kept(
    archive: Path, tmp_path: Path, teacher: Store, member: str, old: str, new: str, told: str
) -> None:
    broken = with_cell(archive, tmp_path / "broken.zip", member=member, old=old, new=new)
    with pytest.raises(DataFileError) as caught:
        import_file(teacher, broken)
    assert told in str(caught.value)
    assert "broken.zip" in str(caught.value)
    assert teacher.database.read("SELECT count(*) FROM held_notes") == [(0,)]
    assert teacher.database.read("SELECT count(*) FROM players") == [(0,)]


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"held-notes.csv": None}, "held-notes.csv is missing"),
        ({"held-notes.csv": b"event\n1\n"}, "not as it was written"),
        ({"about.json": None}, "about.json is missing"),
        ({"about.json": b"{"}, "about.json is missing or unreadable"),
        ({"about.json": b"[" * 100_000}, "about.json is missing or unreadable"),
        ({"about.json": b'{"format": "menu"}'}, "something else"),
        ({"about.json": b'{"format": "intonation player archive", "version": 9}'}, "newer version"),
        ({"about.json": b'{"format": "intonation player archive", "version": 1}'}, "lacks"),
    ],
    ids=lambda value: str(value)[:30],
)
def test_a_damaged_or_foreign_file_is_refused(
    archive: Path, tmp_path: Path, teacher: Store, changes: dict[str, bytes | None], told: str
) -> None:
    broken = rewritten(archive, tmp_path / "broken.zip", changes)
    with pytest.raises(DataFileError, match=told):
        import_file(teacher, broken)
    assert list(teacher.held_notes()) == []


@given(share=st.floats(0.0, 0.999), flipped=st.none() | st.floats(0.0, 0.999))
@settings(max_examples=40, deadline=None)
def test_a_truncated_or_flipped_file_leaves_the_record_as_it_was(
    archive: Path, tmp_path_factory: pytest.TempPathFactory, share: float, flipped: float | None
) -> None:
    content = bytearray(archive.read_bytes())
    if flipped is None:
        del content[int(share * len(content)) :]
    else:
        content[int(flipped * len(content))] ^= 0xFF
    path = tmp_path_factory.mktemp("cut") / "cut.zip"
    path.write_bytes(content)
    with Store(None) as teacher:
        try:
            import_file(teacher, path)
        except DataFileError:
            assert teacher.database.read("SELECT count(*) FROM players") == [(0,)]
        else:
            # what was hit is no part of the tables, such as a date in the directory
            assert len(list(teacher.held_notes())) == 56


@pytest.mark.parametrize("name", ["missing.zip", "missing.csv", "."])
def test_a_file_that_cannot_be_read_is_named(tmp_path: Path, teacher: Store, name: str) -> None:
    with pytest.raises(DataFileError, match="cannot be read"):
        import_file(teacher, tmp_path / name)


def test_a_file_that_would_unpack_without_end_is_refused_before_it_does(
    archive: Path, tmp_path: Path, teacher: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("intonation.interchange.archive_file.LARGEST_BYTES", 10_000)
    with pytest.raises(DataFileError, match="would unpack to more"):
        import_file(teacher, archive)


def test_an_import_that_is_broken_off_leaves_nothing_and_can_be_done_again(
    archive: Path, tmp_path: Path
) -> None:
    class EnoughError(Exception):
        pass

    def stop(share: float) -> None:
        if share > 0.25:
            raise EnoughError

    with Store(tmp_path / "practice.sqlite") as teacher:
        with pytest.raises(EnoughError):
            import_file(teacher, archive, progress=stop)
        assert list(teacher.held_notes()) == []
        import_file(teacher, archive)
        assert len(list(teacher.held_notes())) == 56


def test_an_export_that_is_broken_off_says_how_far_it_is_and_leaves_the_old_archive(
    tmp_path: Path,
) -> None:
    class EnoughError(Exception):
        pass

    told: list[float] = []

    def stop(share: float) -> None:
        told.append(share)
        if share > 0.5:
            raise EnoughError

    old = tmp_path / "wren.zip"
    old.write_bytes(b"the old one")
    with Store(None) as pupil:
        full_record(pupil, sittings=12)
        with pytest.raises(EnoughError):
            export_player(pupil, "wren", old, written_at=WRITTEN_AT, progress=stop)
    assert told == sorted(told)
    assert 0.5 < told[-1] <= 1.0
    assert old.read_bytes() == b"the old one"
    assert [path.name for path in tmp_path.iterdir()] == ["wren.zip"]


def test_an_export_that_fails_leaves_the_old_archive(
    archive: Path, tmp_path: Path, pupil: Store
) -> None:
    old = tmp_path / "wren.zip"
    old.write_bytes(archive.read_bytes())
    with pytest.raises(SettingsError, match="Nothing is kept"):
        export_player(pupil, "nobody", old, written_at=WRITTEN_AT)
    with pytest.raises(SettingsError, match="cannot be written"):
        export_player(pupil, "wren", tmp_path / "no" / "wren.zip", written_at=WRITTEN_AT)
    assert old.read_bytes() == archive.read_bytes()
    assert [path.name for path in tmp_path.iterdir()] == ["wren.zip"]


def test_an_archive_says_what_it_is(archive: Path) -> None:
    with zipfile.ZipFile(archive) as opened:
        about = json.loads(opened.read("about.json"))
        assert opened.testzip() is None
    assert about["player"] == "wren"
    assert about["version"] == 1
    assert about["tables"]["held-notes"]["rows"] == 56
    assert datetime.fromisoformat(about["written_at"]) == datetime(2031, 4, 1, 12, tzinfo=UTC)
