"""Joins archives of players to the practice record: one player out, or one in, merged."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from intonation.errors import DataFileError, SettingsError
from intonation.heldnotes.csv_table import Record
from intonation.heldnotes.exchange import rows_in
from intonation.interchange.archive_file import Archive, opened_archive
from intonation.interchange.archive_tables import trace_of
from intonation.interchange.archive_writing import write_archive
from intonation.language import say
from intonation.store.exporting import Exporting
from intonation.store.merged import Merged
from intonation.store.merging import Merging, merging_into
from intonation.store.merging_answers import merge_answers
from intonation.store.merging_trials import merge_trial
from intonation.store.store import Store

Progress = Callable[[float], None]

TABLE_ENDING = ".csv"
_EVERY = 100
_SHARE_LOOKED_AT = 0.2


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import has come to: whose notes, and what became of the rows."""

    players: tuple[str, ...]
    merged: Merged


def unwatched(_: float) -> None:
    """Take no notice of progress."""


def export_player(
    store: Store,
    player: str,
    path: Path,
    *,
    written_at: datetime,
    progress: Progress = unwatched,
) -> dict[str, int]:
    """Write everything that is kept of a player into an archive; return the rows of each table.

    Parameters
    ----------
    store
        The record that it is taken from.
    player
        Whose it is.
    path
        The archive; what is there is replaced when the new one is whole.
    written_at
        The present date and time.
    progress
        Called with the share that is done; an exception from it cancels, and nothing is written.

    Raises
    ------
    SettingsError
        If nothing is kept of the player, or the file cannot be written.
    StoreError
        If the record cannot be read.
    """
    exporting = Exporting(store.database, player)
    if not any(any(True for _ in table) for table in exporting.tables().values()):
        raise SettingsError(
            say('Nothing is kept of "{player}".', player=player),
            say("See `intonation players` for whose there are."),
        )
    counted = _counting(progress, exporting.notes_and_traces())
    tables = {name: counted(rows) for name, rows in exporting.tables().items()}
    return write_archive(path, tables, player=player, written_at=written_at)


def import_file(
    store: Store,
    path: Path,
    *,
    as_player: str | None = None,
    progress: Progress = unwatched,
) -> Imported:
    """Take in an archive of a player, or a held-note table, without what is there already.

    Parameters
    ----------
    store
        The record that takes it in: wholly, or not at all.
    path
        An archive, or a table whose name ends in ``.csv``.
    as_player
        The player's name here; None keeps the one in the file.
    progress
        Called with the share that is done; an exception from it cancels, and nothing is kept.

    Raises
    ------
    DataFileError
        If the file is damaged or has a mistake in it.
    StoreError
        If the record cannot be written.
    """
    if path.suffix.lower() == TABLE_ENDING:
        return _import_table(store, path, as_player)
    with opened_archive(path, progress=lambda s: progress(_SHARE_LOOKED_AT * s)) as archive:
        player = as_player or archive.player
        with merging_into(store.database) as merging:
            _take_in(merging, player, _watched(archive, progress))
        return Imported((player,), merging.merged)


Watched = Callable[[str], Iterator[Record]]


def _watched(archive: Archive, progress: Progress) -> Watched:
    """Return how a table is read so that progress is told now and then."""
    counted = _counting(
        lambda share: progress(_SHARE_LOOKED_AT + (1.0 - _SHARE_LOOKED_AT) * share),
        sum(archive.rows.values()),
    )
    return lambda name: counted(archive.records(name))


def _counting(progress: Progress, total: int) -> Callable[[Iterable[Record]], Iterator[Record]]:
    """Return what passes tables on, and tells now and then which share of all rows is through."""
    done = 0

    def counted(records: Iterable[Record]) -> Iterator[Record]:
        nonlocal done
        for record in records:
            done += 1
            if done % _EVERY == 0:
                progress(min(done / max(total, 1), 1.0))
            yield record

    return counted


def _take_in(merging: Merging, player: str, records: Watched) -> None:
    """Take in every table after those that it refers to."""
    _take_in_instruments(merging, player, records)
    of_player = {
        "sessions": merging.session,
        "takes": merging.take,
        "held-notes": merging.held_note,
        "checks": merging.check,
    }
    for name, take_in in of_player.items():
        for record in records(name):
            take_in(player, record)
    for record in records("traces"):
        event = _number(record["event"])
        if merging.lacks_trace(event):
            merging.trace(event, trace_of(record))
    for record in records("check-steps"):
        merging.check_step(record)
    for record in records("check-notes"):
        merging.check_note(record)
    _take_in_trials(merging, player, records)
    for name in ("listening-answers", "tuned-notes"):
        merge_answers(merging.connection, merging.merged, player, name, records(name))


def _take_in_instruments(merging: Merging, player: str, records: Watched) -> None:
    for record in records("instruments"):
        merging.names.instrument(record)
    for record in records("former-names"):
        merging.names.former_name(player, record)


def _take_in_trials(merging: Merging, player: str, records: Watched) -> None:
    trials = list(records("trials"))
    works, predictions = _by_trial(records("trial-works")), _by_trial(records("trial-predictions"))
    for trial in trials:
        number = _number(trial["trial"])
        merge_trial(
            merging.connection,
            merging.merged,
            merging.names,
            player,
            trial,
            works=works[number],
            predictions=predictions[number],
        )


def _by_trial(records: Iterable[Record]) -> dict[int, list[Record]]:
    found: dict[int, list[Record]] = defaultdict(list)
    for record in records:
        found[_number(record["trial"])].append(record)
    return found


def _number(cell: object) -> int:
    assert isinstance(cell, int)
    return cell


def _import_table(store: Store, path: Path, as_player: str | None) -> Imported:
    players: dict[str, None] = {}
    with _lines(path) as lines, merging_into(store.database) as merging:
        for row in rows_in(lines, file_name=str(path)):
            record: dict[str, Any] = asdict(row)
            players[row.player] = None
            if as_player is not None and len(players) > 1:
                raise DataFileError(
                    say(
                        "{path} holds notes of several players, who cannot all become {as_player}.",
                        path=path,
                        as_player=as_player,
                    ),
                    say("Leave the new name out, or part the table by player."),
                )
            merging.held_note(as_player or row.player, record)
    return Imported((as_player,) if as_player else tuple(players), merging.merged)


@contextmanager
def _lines(path: Path) -> Iterator[Iterable[str]]:
    try:
        with path.open(encoding="utf-8-sig", newline="") as lines:
            yield lines
    except OSError as fault:
        raise DataFileError(
            say("{path} cannot be read ({strerror}).", path=path, strerror=fault.strerror or fault),
            say("Check its name and its folder."),
        ) from None
    except UnicodeDecodeError:
        raise DataFileError(
            say("{path} is not text in UTF-8.", path=path),
            say("Save the table again as CSV in UTF-8."),
        ) from None
