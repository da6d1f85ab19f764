"""The pages of several players: the list, files in and out, and players compared."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import players_words as words
from intonation.app.background import Progress
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.players_keys import COMPARED, PLAYERS
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.players import player_list, players_compared
from intonation.app.printing.workshop import wrapped
from intonation.app.screens.working import WorkingPage
from intonation.app.widgets.typed_value import TypedValue
from intonation.assessment.summary import NoteSummary
from intonation.errors import IntonationError, StoreError
from intonation.report.player_table import PairRow

if TYPE_CHECKING:
    from intonation.engine.players import PlayersDesk

Job = Callable[[Progress], str]
Asked = Callable[[Path], Job]


class PlayersPage(WorkingPage[tuple[PairRow, ...]]):
    """Every player with every instrument.

    Parameters
    ----------
    desk
        The record with all its players; None without one.
    """

    keys = PLAYERS
    heading = words.PLAYERS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*PLAYERS, *EVERYWHERE))]

    def __init__(self, desk: PlayersDesk | None) -> None:
        super().__init__()
        self.desk = desk
        self.at = 0
        self.said = ""
        self._job: Job | None = None
        self._asked: Asked | None = None

    def body(self) -> ComposeResult:
        """Lay out the list, and the line to type a file's name into."""
        with VerticalScroll(id="workshop-list"):
            yield Static(id="workshop-rows", markup=False)
        yield TypedValue(id="typed")

    def on_mount(self) -> None:
        """Begin with nothing to type."""
        super().on_mount()
        self._stop_typing()

    def work_out(self, progress: Progress) -> tuple[PairRow, ...]:
        """Do what was asked for, then read who there is."""
        if self.desk is None:
            raise StoreError(words.NO_RECORD, "")
        job, self._job = self._job, None
        if job is not None:
            try:
                self.said = job(progress)
            except IntonationError as error:
                self.said = str(error)
        return self.desk.pairs()

    def printed(self, width: int) -> Content:
        """Return the list, and what became of the last thing that was asked for."""
        if self.share is not None:
            told = words.working(self.share) if self.share else words.READING
            return wrapped([self.naming(told)], width=width)
        if not self.found:
            nobody = self.naming(words.NOBODY)
            return wrapped([self.complaint or self.said or nobody], width=width)
        self.at = min(self.at, len(self.found) - 1)
        count = len({pair.player for pair in self.found})
        self.query_one("#subtitle", Label).update(words.count_in_words(count))
        said = [wrapped([self.said], width=width, ink=STRONG), Content("")] if self.said else []
        return Content("\n").join(
            [
                *said,
                player_list(self.found, marked=self.at, width=width),
                Content(""),
                wrapped([self.naming(words.WHAT_TO_DO)], width=width, ink=SOFT),
            ]
        )

    @property
    def marked(self) -> PairRow | None:
        """The line that is marked; None where there is none, or while a job goes on."""
        return self.found[self.at] if self.found and self.share is None else None

    def action_move(self, lines: int) -> None:
        """Mark another line."""
        if self.found:
            self.at = (self.at + lines) % len(self.found)
            self.said = ""
            self.print_all()
            self.query_one("#workshop-list").scroll_to(y=max(0, self.at - 3), animate=False)

    def action_use(self) -> None:
        """Practise as the marked player, and on the instrument if its size is known."""
        from dataclasses import replace

        if self.marked is None:
            return
        player, instrument = self.marked.player, self.marked.instrument
        settings = replace(self.program.settings, player=player)
        on_it = self.program.shelf.practised(settings, instrument)
        self.program.choose(on_it or settings)
        self.said = words.practised_as(player, instrument if on_it else None)
        self.print_all()

    def action_compare(self) -> None:
        """Compare the players of the marked instrument."""
        if self.desk is not None and self.marked is not None:
            self.program.push_screen(ComparedPage(self.desk, self.marked.instrument))

    def action_look_back(self) -> None:
        """Look back at the marked player's takes."""
        from intonation.app.screens.traces import TracesPage

        if self.desk is not None and self.marked is not None:
            page = TracesPage(self.desk.traces, player=self.marked.player)
            self.program.push_screen(page)

    def action_import(self) -> None:
        """Ask for a file to take in."""
        desk = self.desk
        if desk is not None and self.share is None:
            self._ask(
                words.TO_IMPORT,
                "",
                lambda path: lambda progress: desk.take_in(path, progress=progress),
            )

    def action_export(self) -> None:
        """Ask where to write the marked player's archive."""
        desk, marked = self.desk, self.marked
        if desk is not None and marked is not None:
            self._ask(
                words.TO_EXPORT,
                f"{marked.player}.zip",
                lambda path: (
                    lambda progress: desk.write_out(marked.player, path, progress=progress)
                ),
            )

    def action_print_lesson(self) -> None:
        """Ask where to write the page for the marked player's lesson."""
        desk, marked = self.desk, self.marked
        if desk is None or marked is None:
            return

        def asked(path: Path) -> Job:
            def job(_: Progress) -> str:
                desk.print_lesson(marked.player, marked.instrument, path)
                return words.printed(str(path))

            return job

        self._ask(words.TO_PRINT, "lesson.html", asked)

    def _ask(self, what: str, suggested: str, asked: Asked) -> None:
        typed = self.query_one(TypedValue)
        typed.display, typed.placeholder, typed.value = True, what, suggested
        typed.focus()
        self._asked = asked

    @on(TypedValue.Submitted)
    def take_typed(self, submitted: TypedValue.Submitted) -> None:
        """Begin what was asked for."""
        name, asked = submitted.value.strip(), self._asked
        self._stop_typing()
        if name and asked is not None:
            self._job, self.said = asked(Path(name).expanduser()), ""
            self.begin()

    @on(TypedValue.Left)
    def leave_typed(self) -> None:
        """Do nothing."""
        self._stop_typing()

    def _stop_typing(self) -> None:
        self.query_one(TypedValue).display = False
        self.set_focus(None)
        self._asked = None


class ComparedPage(WorkingPage[dict[str, tuple[NoteSummary, ...]]]):
    """The players of one instrument side by side.

    Parameters
    ----------
    desk
        The record with all its players.
    instrument
        Which one.
    """

    keys = COMPARED
    heading = words.COMPARED
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*COMPARED, *EVERYWHERE))]

    def __init__(self, desk: PlayersDesk, instrument: str) -> None:
        super().__init__()
        self.desk, self.instrument = desk, instrument
        self.as_numbers = False

    def on_mount(self) -> None:
        """Say which instrument it is."""
        super().on_mount()
        self.query_one("#subtitle", Label).update(self.instrument)

    def work_out(self, _progress: Progress) -> dict[str, tuple[NoteSummary, ...]]:
        """Read every player's means."""
        return self.desk.compared(self.instrument)

    def printed(self, width: int) -> Content:
        """Return the drawing or the table."""
        if self.share is not None or not self.found:
            return wrapped([self.complaint or words.READING], width=width)
        drawn = players_compared(self.found, width=width, as_numbers=self.as_numbers)
        if len(self.found) > 1:
            return drawn
        return Content("\n").join([wrapped([words.ONE_PLAYER], width=width, ink=STRONG), drawn])

    def action_numbers(self) -> None:
        """Show numbers, or the drawing."""
        self.as_numbers = not self.as_numbers
        self.print_all()
