"""Opening the practice record so that practice can go on, whatever state its file is in."""

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from intonation.errors import StoreError
from intonation.language import say
from intonation.store.store import Store

_MOST_SPARE_FILES = 20


@dataclass(frozen=True, slots=True)
class OpenedStore:
    """A store that takes notes, and what was wrong on the way to it.

    Parameters
    ----------
    store
        The record itself, a spare file beside it, or one in memory.
    complaint
        Why it is not the record itself, and where the notes go instead; None if all is well.
    """

    store: Store
    complaint: StoreError | None = None


def open_store(path: Path) -> OpenedStore:
    """Return the record at a path, or the best stand-in there is.

    A file that is damaged, foreign, of a newer version or may not be written is left as it is.
    The notes then go into a spare file beside it, and into memory where nothing can be written.
    """
    try:
        return OpenedStore(_made_ready(path))
    except StoreError as problem:
        return _stand_in(path, problem)


def open_for_reading(path: Path) -> OpenedStore:
    """Return the record at a path, or the spare file that `open_store` has used in its place.

    Raises
    ------
    StoreError
        If the record cannot be read and there is no spare file.
    """
    try:
        store = Store(path)
        store.sessions()
    except StoreError as problem:
        for spare in filter(_is_there, _spare_paths(path)):
            place = say("These are the notes in {spare}.", spare=spare)
            return OpenedStore(Store(spare), _extended(problem, place))
        raise
    return OpenedStore(store)


def make_ready(store: Store) -> None:
    """Open a store for writing now, and raise its `StoreError` at once rather than later."""
    with store.database.writing() as connection:
        # SQLite finds out that a file may only be read when it is written, not when that begins
        connection.execute("UPDATE players SET name = name WHERE false")


def _made_ready(path: Path) -> Store:
    """Return a store that takes notes; where none can be begun, nothing of it is left behind."""
    was_there, store = _is_there(path), Store(path)
    try:
        make_ready(store)
    except StoreError:
        store.close()
        if not was_there:
            _clear_away(path)
        raise
    return store


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError:  # a folder that may not be looked into
        return False


def _clear_away(path: Path) -> None:
    for name in (path.name, f"{path.name}-wal", f"{path.name}-shm"):
        with suppress(OSError):
            path.with_name(name).unlink()


def _stand_in(path: Path, problem: StoreError) -> OpenedStore:
    for spare_path in _spare_paths(path):
        was_there = _is_there(spare_path)
        with suppress(StoreError):
            spare = _made_ready(spare_path)
            place = say("Until then notes are kept in {path}.", path=spare.path)
            return OpenedStore(spare, _extended(problem, place))
        if not was_there:
            break  # no file can be begun here, whatever its name
    place = say("Practice goes on, but its notes are lost when the program ends.")
    return OpenedStore(Store(None), _extended(problem, place))


def _spare_paths(path: Path) -> list[Path]:
    return [path.with_name(f"{path.stem}-{n}{path.suffix}") for n in range(2, _MOST_SPARE_FILES)]


def _extended(problem: StoreError, place: str) -> StoreError:
    return StoreError(problem.sentence, f"{problem.what_to_do} {place}")
