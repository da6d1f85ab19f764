"""The page on which a take is looked back at: each held note over time, afterwards."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label

from intonation.app import print_words, trace_words
from intonation.app.background import Progress
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.traces import one_note, side_by_side
from intonation.app.printing.workshop import wrapped
from intonation.app.screens.working import SCROLLBAR, WorkingPage
from intonation.app.trace_keys import TRACES
from intonation.errors import StoreError
from intonation.heldnotes.traced_note import TracedNote
from intonation.report.trace_chart import that_fit
from intonation.store.traces import SeenTake, Traces
from intonation.words.trace import NOTHING_TO_SEE


class TracesPage(WorkingPage[tuple[TracedNote, ...]]):
    """The notes of a take, one large or several side by side.

    Parameters
    ----------
    record
        The takes that were kept; None without a practice record.
    player
        Whose takes.
    """

    keys = TRACES
    heading = trace_words.TRACES
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*TRACES, *EVERYWHERE))]

    def __init__(self, record: Traces | None, *, player: str) -> None:
        super().__init__()
        self.record, self.player = record, player
        self.takes: tuple[SeenTake, ...] = ()
        self.at_take, self.at_note = 0, 0
        self.several, self.as_numbers = False, False

    def work_out(self, _progress: Progress) -> tuple[TracedNote, ...] | None:
        """Read the takes when the page opens, and the notes of the one that is looked at."""
        if self.record is None:
            raise StoreError(trace_words.NO_RECORD, "")
        if not self.takes:
            self.takes = self.record.takes(player=self.player)
        if not self.takes:
            return None
        return self.record.notes(self.takes[self.at_take].number)

    def printed(self, width: int) -> Content:
        """Return the drawing, or what stands in its way."""
        if self.share is not None:
            return wrapped([trace_words.READING], width=width)
        if not self.found:
            return wrapped([self.complaint or NOTHING_TO_SEE], width=width)
        self.query_one("#subtitle", Label).update(
            Content(trace_words.take_shown(self.takes[self.at_take]))
        )
        height = self.query_one("#body").content_size.height
        if self.several:
            return side_by_side(
                self.found,
                self.at_note,
                self._beside(width),
                width=width,
                height=height,
                as_numbers=self.as_numbers,
            )
        return one_note(
            self.found, self.at_note, width=width, height=height, as_numbers=self.as_numbers
        )

    def _beside(self, width: int) -> int:
        return that_fit(self.found or (), width=width)

    def action_step(self, steps: int) -> None:
        """Go on to other notes of the take."""
        if not self.found:
            return
        if self.several:
            steps *= self._beside(self.print_width - SCROLLBAR)
        self.at_note = min(max(self.at_note + steps, 0), len(self.found) - 1)
        self.print_all()

    def action_move(self, takes: int) -> None:
        """Go on to another take."""
        at = min(max(self.at_take + takes, 0), max(len(self.takes) - 1, 0))
        if at != self.at_take:
            self.at_take, self.at_note = at, 0
            self.begin()

    def action_several(self) -> None:
        """Show several notes side by side, or one."""
        self.several = not self.several
        self.print_all()

    def action_print_report(self) -> None:
        """Write the report of the sitting of the take that is looked at."""
        from intonation.app.screens.printing_out import print_out
        from intonation.report.pages.session_page import session_page

        if not self.takes:
            return
        take = self.takes[self.at_take]
        print_out(
            self.program,
            print_words.SESSION_REPORT,
            "report-session.html",
            lambda reporting: session_page(
                reporting.session(take.player, take.instrument, session=take.session)
            ),
        )

    def action_numbers(self) -> None:
        """Show numbers, or the drawing."""
        self.as_numbers = not self.as_numbers
        self.print_all()
