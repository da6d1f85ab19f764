"""Whatever happens to the record, no kept note is lost and one sentence says what to do."""

import random
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from intonation.errors import StoreError
from intonation.store import schema
from intonation.store.opening import open_for_reading, open_store
from intonation.store.store import Store
from tests.store.test_store import a_note
from tests.support.ordinary_user import folder_of_an_ordinary_user

KEEP_NOTES = [sys.executable, "-u", "-m", "tests.support.store_until_killed"]


@pytest.mark.parametrize("seed", range(5))
def test_a_program_killed_at_any_moment_loses_no_note_that_it_had_kept(
    tmp_path: Path, seed: int
) -> None:
    path = tmp_path / "practice.sqlite"
    kept_before = 0
    for _ in range(2):
        program = subprocess.Popen([*KEEP_NOTES, str(path)], stdout=subprocess.PIPE, text=True)
        assert program.stdout is not None
        for _ in range(random.Random(seed).randrange(1, 60)):
            said = program.stdout.readline()
        program.send_signal(signal.SIGKILL)
        said = (program.stdout.read().split() or [said])[-1]
        program.wait()
        program.stdout.close()
        with Store(path) as store:
            orders = [row.order for row in store.held_notes()][kept_before:]
            store.check()
        assert orders == list(range(1, len(orders) + 1))
        assert len(orders) in (int(said), int(said) + 1)
        kept_before += len(orders)


def test_a_disk_that_takes_no_more_is_said_and_what_was_kept_stays(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"

    def small_disk() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000))

    run = subprocess.run(
        [*KEEP_NOTES, str(path)],
        capture_output=True,
        text=True,
        preexec_fn=small_disk,
        check=False,
    )
    assert "StoreError" in run.stderr
    assert "everything kept so far" in run.stderr
    with Store(path) as store:
        assert [row.order for row in store.held_notes()] == [int(n) for n in run.stdout.split()]


def test_a_folder_that_may_not_be_written_lets_practice_go_on_in_memory() -> None:
    with folder_of_an_ordinary_user() as folder:
        folder.chmod(0o500)
        opened = open_store(folder / "intonation" / "practice.sqlite")
        assert opened.complaint is not None
        assert "practice.sqlite" in opened.complaint.sentence
        assert "goes on" in opened.complaint.what_to_do
        opened.store.add_held_note(a_note(cents=3.0))
        assert [row.cents for row in opened.store.held_notes()] == [3.0]


def test_a_record_that_may_only_be_read_can_still_be_listed() -> None:
    with folder_of_an_ordinary_user() as folder:
        path = folder / "practice.sqlite"
        with Store(path) as store:
            store.add_held_note(a_note(cents=3.0))
        path.chmod(0o400)
        folder.chmod(0o500)
        with Store(path) as store:
            assert [row.cents for row in store.held_notes()] == [3.0]
            with pytest.raises(StoreError, match="may not be written"):
                store.add_held_note(a_note())


def test_a_record_that_may_only_be_read_is_said_at_once_and_practice_goes_on() -> None:
    with folder_of_an_ordinary_user() as folder:
        path = folder / "practice.sqlite"
        with Store(path) as store:
            store.add_held_note(a_note(cents=3.0))
        path.chmod(0o400)
        folder.chmod(0o500)
        opened = open_store(path)
        assert opened.complaint is not None
        assert "may not be written" in opened.complaint.sentence
        assert "goes on" in opened.complaint.what_to_do
        opened.store.add_held_note(a_note(cents=4.0))


def test_a_folder_that_may_not_be_looked_into_is_said_in_a_sentence() -> None:
    with folder_of_an_ordinary_user() as folder:
        folder.chmod(0o000)
        with pytest.raises(StoreError, match=r"practice\.sqlite"):
            open_for_reading(folder / "practice.sqlite")
        assert open_store(folder / "practice.sqlite").complaint is not None


def test_a_full_disk_is_said_at_once_and_nothing_is_left_lying_about(tmp_path: Path) -> None:
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, before[1]))
    try:
        opened = open_store(tmp_path / "practice.sqlite")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert opened.complaint is not None
    assert "goes on" in opened.complaint.what_to_do
    opened.store.add_held_note(a_note(cents=4.0))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "content", [b"My diary. Today I practised.\n" * 100, b"\x00\x01", b"SQLite format 3\x00 not"]
)
def test_a_file_that_is_no_record_is_left_as_it_is_and_notes_go_beside_it(
    tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "practice.sqlite"
    path.write_bytes(content)
    opened = open_store(path)
    assert opened.complaint is not None
    assert str(path) in opened.complaint.sentence
    assert opened.store.path == tmp_path / "practice-2.sqlite"
    assert str(opened.store.path) in opened.complaint.what_to_do
    opened.store.add_held_note(a_note(cents=1.0))
    opened.store.close()
    assert path.read_bytes() == content
    again = open_store(path)
    assert [row.cents for row in again.store.held_notes()] == [1.0]
    again.store.close()


def test_a_database_of_another_program_is_never_written_into(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE bookmarks (address TEXT)")
    connection.close()
    before = path.read_bytes()
    with Store(path) as store, pytest.raises(StoreError, match="another program"):
        store.add_held_note(a_note())
    assert path.read_bytes() == before


def test_a_damaged_record_is_said_to_be_damaged_and_kept(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"
    with Store(path) as store:
        store.add_held_notes(a_note(cents=float(n % 7)) for n in range(2_000))
    content = bytearray(path.read_bytes())
    content[8_192:] = b"\xa5" * (len(content) - 8_192)
    path.write_bytes(content)
    with Store(path) as store, pytest.raises(StoreError, match="damaged"):
        list(store.held_notes())
    with Store(path) as store, pytest.raises(StoreError, match="damaged"):
        store.check()
    assert path.read_bytes() == content


def test_a_record_of_a_newer_version_is_refused_kindly_and_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "practice.sqlite"
    newer = (*schema.MIGRATIONS, ("ALTER TABLE held_notes ADD COLUMN mood TEXT",))
    with monkeypatch.context() as in_future:
        in_future.setattr(schema, "MIGRATIONS", newer)
        in_future.setattr(schema, "SCHEMA_VERSION", len(newer))
        with Store(path) as store:
            store.add_held_note(a_note())
    before = path.read_bytes()
    with Store(path) as store, pytest.raises(StoreError, match="newer version") as refused:
        store.add_held_note(a_note())
    assert "Update intonation" in refused.value.what_to_do
    assert path.read_bytes() == before


def test_an_older_record_is_brought_up_to_date_with_all_its_notes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "practice.sqlite"
    with Store(path) as store:
        store.add_held_note(a_note(cents=-2.5))
    newer = (*schema.MIGRATIONS, ("ALTER TABLE held_notes ADD COLUMN mood TEXT",))
    monkeypatch.setattr(schema, "MIGRATIONS", newer)
    monkeypatch.setattr(schema, "SCHEMA_VERSION", len(newer))
    with Store(path) as store:
        store.add_held_note(a_note(cents=4.0))
        assert [row.cents for row in store.held_notes()] == [-2.5, 4.0]
        assert store.database.read("SELECT mood FROM held_notes") == [(None,), (None,)]


def test_an_update_that_fails_leaves_the_older_record_usable(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "practice.sqlite"
    with Store(path) as store:
        store.add_held_note(a_note(cents=-2.5))
    broken = (*schema.MIGRATIONS, ("CREATE TABLE moods (name TEXT)", "nonsense"))
    with monkeypatch.context() as in_future:
        in_future.setattr(schema, "MIGRATIONS", broken)
        in_future.setattr(schema, "SCHEMA_VERSION", len(broken))
        with Store(path) as store, pytest.raises(StoreError):
            store.add_held_note(a_note())
    with Store(path) as store:
        assert [row.cents for row in store.held_notes()] == [-2.5]


def test_a_record_that_another_program_is_writing_is_waited_for_and_then_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "practice.sqlite"
    monkeypatch.setattr("intonation.store.database.BUSY_S", 0.05)
    with Store(path) as store, Store(path) as other:
        store.add_held_note(a_note())
        with other.database.writing(), pytest.raises(StoreError, match="another program"):
            store.add_held_note(a_note())
        store.add_held_note(a_note())
        assert len(list(store.held_notes())) == 2


def test_a_record_copied_without_its_journal_opens(tmp_path: Path) -> None:
    path = tmp_path / "practice.sqlite"
    with Store(path) as store:
        store.add_held_note(a_note(cents=2.0))
    shutil.copy(path, tmp_path / "copy.sqlite")
    with Store(tmp_path / "copy.sqlite") as copy:
        assert [row.cents for row in copy.held_notes()] == [2.0]
