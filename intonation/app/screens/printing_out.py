"""The page on which a report is written: its file's name, then where it is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from intonation.app import print_words
from intonation.app.background import Progress
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.print_keys import PRINT
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.workshop import wrapped
from intonation.app.screens.working import WorkingPage
from intonation.app.widgets.typed_value import TypedValue
from intonation.errors import StoreError
from intonation.report.pages.files import write_report
from intonation.report.pages.parts import WrittenReport

if TYPE_CHECKING:
    from intonation.app.application import IntonationApp
    from intonation.engine.reporting import Reporting

MadeReport = Callable[[Progress], WrittenReport]


class PrintPage(WorkingPage[Path]):
    """One report, written where the player wants it.

    Parameters
    ----------
    about
        What the report is, in a sentence.
    suggested
        Name of its file, which can be changed.
    made
        Makes the report, in a thread; None without a practice record.
    """

    keys = PRINT
    heading = print_words.PRINT
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*PRINT, *EVERYWHERE))]

    def __init__(self, about: str, suggested: str, made: MadeReport | None) -> None:
        super().__init__()
        self.about, self.suggested, self._made = about, suggested, made
        self._path: Path | None = None

    def body(self) -> ComposeResult:
        """Lay out what the report is, and the line for its file's name."""
        yield from super().body()
        yield TypedValue(self.suggested, id="typed", placeholder=print_words.FILE_NAME)

    def begin(self) -> None:
        """Ask for a name first, then write the page."""
        self.query_one(TypedValue).display = self._path is None
        if self._path is not None:
            self.set_focus(None)
            super().begin()
        else:
            self.query_one(TypedValue).focus()
        self.print_all()

    def work_out(self, progress: Progress) -> Path:
        """Make the report and write it."""
        if self._made is None:
            raise StoreError(print_words.NO_RECORD, "")
        assert self._path is not None
        write_report(self._made(progress), self._path)
        return self._path

    def printed(self, width: int) -> Content:
        """Return what the report is, and what has become of it."""
        state = self.naming(self._state)
        return Content("\n\n").join(
            [
                wrapped([self.about], width=width),
                wrapped([state], width=width, ink=STRONG if self._path else SOFT),
            ]
        )

    @property
    def _state(self) -> str:
        if self.share is not None:
            return print_words.writing(self.share)
        if self.found is not None:
            return print_words.written(self.found)
        return self.complaint or print_words.WHERE

    def action_write(self) -> None:
        """Ask for the name again: under another one the page is written once more."""
        if self.share is None:
            self._path, self.found, self.complaint = None, None, None
            self.begin()

    @on(TypedValue.Submitted)
    def take_name(self, submitted: TypedValue.Submitted) -> None:
        """Write the page under the name."""
        name = submitted.value.strip()
        if name:
            self._path = Path(name).expanduser()
            self.begin()

    @on(TypedValue.Left)
    def leave_typed(self) -> None:
        """Write nothing."""
        self.action_back()


def print_out(
    program: IntonationApp,
    about: str,
    suggested: str,
    page: Callable[[Reporting], WrittenReport],
) -> None:
    """Open the page on which a report of the record is written.

    Parameters
    ----------
    program
        On whose screen.
    about, suggested
        What the report is, and a name for its file.
    page
        Makes it of the record.
    """
    opened = program.surroundings.reporting
    made = None if opened is None else lambda _: page(opened())
    program.push_screen(PrintPage(about, suggested, made))
