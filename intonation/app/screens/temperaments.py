"""The temperaments page: a table to compare them, and the marked one exactly."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import words
from intonation.app.choices import neighbour
from intonation.app.exercise_keys import TEMPERAMENTS
from intonation.app.exercise_words import TEMPERAMENT_FILE
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.practice_choices import with_own_temperament
from intonation.app.printing.inks import SOFT
from intonation.app.printing.temperaments import temperament_in_full, temperament_table
from intonation.app.screens.page import Page
from intonation.app.widgets.typed_value import TypedValue
from intonation.errors import IntonationError
from intonation.pitch.temperaments import TEMPERAMENTS as KNOWN
from intonation.pitch.temperaments import Temperament, variants_of
from intonation.practice.settings import OWN


class TemperamentsPage(Page):
    """Every temperament at the player's concert pitch, and the player's own."""

    keys = TEMPERAMENTS
    heading = words.TEMPERAMENTS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*TEMPERAMENTS, *EVERYWHERE))]

    def __init__(self) -> None:
        super().__init__()
        self.known: list[Temperament] = list(KNOWN.values())
        self.own: Temperament | None = None
        self.at = 0

    def body(self) -> ComposeResult:
        """Lay out the table, the marked temperament under it, and the line to type into."""
        yield Static(Content.styled(words.TEMPERAMENT_CAPTION, SOFT))
        yield Static(id="table", markup=False)
        yield Static(id="temperament", markup=False)
        yield TypedValue(id="typed", placeholder=TEMPERAMENT_FILE)
        yield Static(id="mistake", markup=False)

    def on_mount(self) -> None:
        """Mark the temperament in use, and say at which concert pitch."""
        super().on_mount()
        self._stop_typing()
        self._list()
        pitch = words.concert_pitch(self.program.settings.a4_hz)
        self.query_one("#subtitle", Label).update(pitch)

    def _list(self) -> None:
        """List what ships, each in its usual place, then the player's own; mark the one in use."""
        settings = self.program.settings
        self.own = settings.own_temperament
        self.known = [*KNOWN.values(), *([self.own] if self.own else [])]
        self.at = 0
        for line, usual in enumerate(KNOWN):
            for variant in variants_of(usual):
                if variant.name == settings.temperament:
                    self.known[line], self.at = variant, line
        if settings.temperament == OWN and self.own:
            self.at = len(KNOWN)

    def print_all(self) -> None:
        """Print the table and the marked temperament."""
        settings, marked = self.program.settings, self.known[self.at]
        table = temperament_table(self.known, marked=marked, in_use=settings.tuning_name)
        self.query_one("#table", Static).update(table)
        self.query_one("#temperament", Static).update(
            temperament_in_full(marked, a4_hz=settings.a4_hz, width=self.print_width)
        )

    def action_move(self, lines: int) -> None:
        """Mark another temperament."""
        self._stop_typing()
        self.at = (self.at + lines) % len(self.known)
        self.print_all()

    def action_place(self, steps: int) -> None:
        """Put the wolf or the tonic of the marked temperament elsewhere."""
        if self.at < len(KNOWN):
            variants = variants_of(tuple(KNOWN)[self.at])
            self.known[self.at] = neighbour(variants, self.known[self.at], steps)
            self.print_all()

    def action_use(self) -> None:
        """Practise in the marked temperament."""
        name = OWN if self.at == len(KNOWN) else self.known[self.at].name
        self.program.choose(replace(self.program.settings, temperament=name))
        self.dismiss()

    def action_own(self) -> None:
        """Open the line to type the path of a file into."""
        self.query_one("#temperament", Static).display = False
        typed = self.query_one(TypedValue)
        typed.display = True
        typed.value = self.program.settings.temperament_file or ""
        typed.focus()

    @on(TypedValue.Submitted)
    def take_typed(self, submitted: TypedValue.Submitted) -> None:
        """Practise in the temperament of a file, or say what is wrong with it."""
        try:
            settings = with_own_temperament(self.program.settings, submitted.value)
        except IntonationError as error:
            self._say_mistake(str(error))
            return
        self.program.choose(settings)
        self._stop_typing()
        self._list()
        self.print_all()

    @on(TypedValue.Left)
    def leave_typed(self) -> None:
        """Leave everything as it was."""
        self._stop_typing()

    def action_back(self) -> None:
        """Go back without a change."""
        self.dismiss()

    def _stop_typing(self) -> None:
        self.query_one(TypedValue).display = False
        self.query_one("#temperament", Static).display = True
        self.set_focus(None)
        self._say_mistake("")

    def _say_mistake(self, sentence: str) -> None:
        mistake = self.query_one("#mistake", Static)
        mistake.display = bool(sentence)
        mistake.update(sentence)
