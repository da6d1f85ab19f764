"""The summary page: every note of the take, worst first, and what to practise next."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import words
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.tables import summary_axis, summary_heading, summary_rows
from intonation.app.screens.page import Page
from intonation.app.take_keys import SUMMARY
from intonation.assessment.leaks import leak_suspected
from intonation.assessment.summary import TakeSummary
from intonation.practice.settings import PracticeSettings
from intonation.words.leaks import LEAK_SUSPECTED
from intonation.words.take import NOTHING_HELD, practise_next, whole_in_words


class SummaryPage(Page):
    """The page after a take.

    Parameters
    ----------
    settings
        What the take was played with.
    summary
        The take, worst note first.
    """

    keys = SUMMARY
    heading = words.SUMMARY
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*SUMMARY, *EVERYWHERE))]

    def __init__(self, settings: PracticeSettings, summary: TakeSummary) -> None:
        super().__init__()
        self.settings = settings
        self.summary = summary

    def body(self) -> ComposeResult:
        """Lay out what comes next, the table, and the axis under it."""
        yield Static(self._in_words(), id="whole")
        yield Static(id="summary-heading", markup=False)
        with VerticalScroll(id="summary-list"):
            yield Static(id="summary-rows", markup=False)
        yield Static(id="summary-axis", markup=False)

    def on_mount(self) -> None:
        """Say what the take was played with."""
        super().on_mount()
        self.query_one("#subtitle", Label).update(words.tuned_to(self.settings))

    def action_scroll(self, lines: int) -> None:
        """Go up or down the list."""
        self.query_one("#summary-list").scroll_relative(y=lines, animate=False)

    def step(self) -> None:
        """Let the pedal do what Space does."""
        self.action_again()

    def action_again(self) -> None:
        """Play another take with the same choices."""
        self.program.takes.start(self.settings)

    def action_back(self) -> None:
        """Go back to the choices."""
        self.dismiss()

    def _in_words(self) -> Content:
        if not self.summary.notes:
            return Content.styled(NOTHING_HELD, STRONG)
        next_one = Content.styled(practise_next(self.summary), STRONG)
        whole = Content.styled(self._whole(), SOFT)
        return Content("\n").join([next_one, whole])

    def _whole(self) -> str:
        instrument = self.settings.recorder
        if leak_suspected(self.summary.notes, instrument=instrument):
            return f"{whole_in_words(self.summary)} {LEAK_SUSPECTED}"
        return whole_in_words(self.summary)

    def print_all(self) -> None:
        """Print the table."""
        if not self.summary.notes:
            return
        width = self.print_width
        self.query_one("#summary-heading", Static).update(summary_heading(width=width))
        self.query_one("#summary-rows", Static).update(summary_rows(self.summary, width=width))
        self.query_one("#summary-axis", Static).update(summary_axis(width=width))
