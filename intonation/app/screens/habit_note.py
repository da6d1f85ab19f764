"""One note's habits: its weeks, what its pitch goes with, and whose it is."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import habit_words
from intonation.app.habit_keys import HABIT_NOTE
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.habits import SCROLLBAR, in_full
from intonation.app.screens.page import Page
from intonation.diagnosis.results import NoteDiagnosis
from intonation.habits.habit import Habits
from intonation.pitch.notes import note_name


class HabitNotePage(Page):
    """One note.

    Parameters
    ----------
    habits
        All notes.
    midi
        The one that is shown; it must be one of them.
    owners
        Whose the deviations are; None while that is being worked out.
    """

    keys = HABIT_NOTE
    heading = habit_words.HABIT_NOTE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*HABIT_NOTE, *EVERYWHERE))]

    def __init__(self, habits: Habits, midi: int, owners: dict[int, NoteDiagnosis] | None) -> None:
        super().__init__()
        self.habits, self.owners = habits, owners
        self.place = [note.midi for note in habits.notes].index(midi)

    def body(self) -> ComposeResult:
        """Lay out one long text."""
        with VerticalScroll(id="habit-list"):
            yield Static(id="habit-rows", markup=False)

    def take_owners(self, owners: dict[int, NoteDiagnosis]) -> None:
        """Show what the instrument checks say."""
        self.owners = owners
        self.print_all()

    def print_all(self) -> None:
        """Print the note."""
        if not self.is_mounted:
            return
        note = self.habits.notes[self.place]
        settings = self.program.settings
        whose = f"{note_name(note.midi)} · {settings.player} · {settings.instrument}"
        self.query_one("#subtitle", Label).update(Content(whose))
        text = in_full(
            note,
            (self.owners or {}).get(note.midi),
            looked=self.owners is not None,
            width=self.print_width - SCROLLBAR,
        )
        self.query_one("#habit-rows", Static).update(text)

    def action_move(self, steps: int) -> None:
        """Go to another note."""
        self.place = min(max(self.place + steps, 0), len(self.habits.notes) - 1)
        self.query_one("#habit-list", VerticalScroll).scroll_to(y=0, animate=False)
        self.print_all()

    def action_scroll(self, lines: int) -> None:
        """Go up or down."""
        self.query_one("#habit-list", VerticalScroll).scroll_relative(y=lines, animate=False)

    def action_back(self) -> None:
        """Go back to all notes."""
        self.dismiss()
