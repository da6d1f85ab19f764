"""The fingering page: the instrument's chart in each system, and the marked note in full."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Label, Static

from intonation.app import workshop_words
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.fingerings import chart_rows, note_in_full
from intonation.app.screens.page import Page
from intonation.app.workshop_keys import FINGERINGS
from intonation.instruments.other_systems import SYSTEMS, in_system
from intonation.language import say
from intonation.report.fingering_chart import HOLES_HEADING, LEGEND


class FingeringsPage(Page):
    """Every note of the player's instrument."""

    keys = FINGERINGS
    heading = workshop_words.FINGERINGS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*FINGERINGS, *EVERYWHERE))]

    def body(self) -> ComposeResult:
        """Lay out the chart, and the marked note under it."""
        yield Static(f"  {say('note'):<4} {HOLES_HEADING}", markup=False)
        with VerticalScroll(id="chart-list"):
            yield Static(id="chart-rows", markup=False)
        yield Static(LEGEND, markup=False)
        yield Static(id="fingering", markup=False)

    def on_mount(self) -> None:
        """Begin at the lowest note of the second octave."""
        super().on_mount()
        self.instrument = self.program.settings.recorder
        self.at = self.instrument.lowest_midi + 12

    def print_all(self) -> None:
        """Print whose chart this is, the chart, and the marked note."""
        title = f"{self.instrument.title}, {self.instrument.chart.title}"
        self.query_one("#subtitle", Label).update(title)
        rows = chart_rows(self.instrument, marked=self.at)
        self.query_one("#chart-rows", Static).update(rows)
        full = note_in_full(self.instrument, self.at, width=self.print_width)
        self.query_one("#fingering", Static).update(full)
        self.once_drawn(self._keep_in_sight)

    def _keep_in_sight(self) -> None:
        listed = self.query_one("#chart-list", VerticalScroll)
        row = self.instrument.highest_midi - self.at
        listed.scroll_to(y=row - listed.size.height // 2, animate=False)

    def action_move(self, steps: int) -> None:
        """Mark another note."""
        notes = self.instrument.notes_midi
        self.at = min(max(self.at + steps, notes[0]), notes[-1])
        self.print_all()

    def action_step(self, steps: int) -> None:
        """Show the chart of another fingering system."""
        at = SYSTEMS.index(self.instrument.chart.name) + steps
        self.instrument = in_system(self.instrument, SYSTEMS[at % len(SYSTEMS)])
        self.print_all()

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()
