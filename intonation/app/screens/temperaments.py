"""The temperaments page: a table to compare them, and the marked one exactly."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import words
from intonation.app.exercise_keys import TEMPERAMENTS
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT
from intonation.app.printing.temperaments import temperament_in_full, temperament_table
from intonation.app.screens.page import Page
from intonation.pitch.temperaments import TEMPERAMENTS as KNOWN
from intonation.pitch.temperaments import Temperament


class TemperamentsPage(Page):
    """Every temperament at the player's concert pitch."""

    keys = TEMPERAMENTS
    heading = words.TEMPERAMENTS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*TEMPERAMENTS, *EVERYWHERE))]

    def __init__(self) -> None:
        super().__init__()
        self.known: tuple[Temperament, ...] = tuple(KNOWN.values())
        self.at = 0

    def body(self) -> ComposeResult:
        """Lay out the table, and the marked temperament under it."""
        yield Static(Content.styled(words.TEMPERAMENT_CAPTION, SOFT))
        yield Static(id="table", markup=False)
        yield Static(id="temperament", markup=False)

    def on_mount(self) -> None:
        """Mark the temperament in use, and say at which concert pitch."""
        super().on_mount()
        names = [one.name for one in self.known]
        in_use = self.program.settings.temperament
        self.at = names.index(in_use) if in_use in names else 0
        pitch = words.concert_pitch(self.program.settings.a4_hz)
        self.query_one("#subtitle", Label).update(pitch)

    def print_all(self) -> None:
        """Print the table and the marked temperament."""
        settings, marked = self.program.settings, self.known[self.at]
        table = temperament_table(self.known, marked=marked, in_use=settings.temperament)
        self.query_one("#table", Static).update(table)
        self.query_one("#temperament", Static).update(
            temperament_in_full(marked, a4_hz=settings.a4_hz, width=self.print_width)
        )

    def action_move(self, lines: int) -> None:
        """Mark another temperament."""
        self.at = (self.at + lines) % len(self.known)
        self.print_all()

    def action_use(self) -> None:
        """Practise in the marked temperament."""
        name = self.known[self.at].name
        self.program.choose(replace(self.program.settings, temperament=name))
        self.dismiss()

    def action_back(self) -> None:
        """Go back without a change."""
        self.dismiss()
