"""Joins the teacher's view to the practice record: players listed, compared, taken in."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from intonation.assessment.summary import NoteSummary
from intonation.engine.archiving import Progress, export_player, import_file, unwatched
from intonation.engine.habit_record import HabitRecord
from intonation.engine.reporting import Reporting
from intonation.report.pages.files import write_report
from intonation.report.pages.lesson_page import lesson_page
from intonation.report.player_table import PairRow
from intonation.store.sittings import Sittings
from intonation.store.store import Store
from intonation.store.traces import Traces
from intonation.words.archive import exported, imported


@dataclass(frozen=True, slots=True)
class PlayersDesk:
    """Several players and instruments of one record.

    Parameters
    ----------
    store
        The practice record.
    now
        Returns the present date and time.

    Notes
    -----
    Every method may raise an `IntonationError`.
    """

    store: Store
    now: Callable[[], datetime]

    def pairs(self) -> tuple[PairRow, ...]:
        """Return every player with every instrument, who held most notes first."""
        sizes = {one.name: one.size for one in self.store.instruments.all()}
        return tuple(
            PairRow(
                player=pair.player,
                instrument=pair.instrument,
                sittings=pair.sittings,
                held_notes=pair.held_notes,
                first_at=pair.first_at,
                last_at=pair.last_at,
                size=sizes.get(pair.instrument),
            )
            for pair in Sittings(self.store.database).pairs()
        )

    def compared(self, instrument: str) -> dict[str, tuple[NoteSummary, ...]]:
        """Return where every player's notes usually lie, who held most notes first."""
        habits = HabitRecord(self.store, self.now)
        usual = {
            pair.player: habits.usual(pair.player, instrument)
            for pair in Sittings(self.store.database).pairs()
            if pair.instrument == instrument
        }
        return {
            player: tuple(note.summary for note in notes)
            for player, notes in usual.items()
            if notes
        }

    @property
    def traces(self) -> Traces:
        """The takes of all of them, to be looked back at."""
        return self.store.traces

    def take_in(
        self, path: Path, *, as_player: str | None = None, progress: Progress = unwatched
    ) -> str:
        """Import an archive or a held-note table, and return in words what has come of it."""
        found = import_file(self.store, path, as_player=as_player, progress=progress)
        return imported(found.players, found.merged.added, found.merged.known)

    def write_out(self, player: str, path: Path, *, progress: Progress = unwatched) -> str:
        """Write a player's archive, and return in words what is in it."""
        rows = export_player(self.store, player, path, written_at=self.now(), progress=progress)
        return exported(player, rows, str(path))

    def print_lesson(self, player: str, instrument: str, path: Path) -> None:
        """Write the page for a lesson."""
        report = Reporting(self.store, self.now).lesson(player, instrument)
        write_report(lesson_page(report), path)
