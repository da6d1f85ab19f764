"""The page of one's own instruments: take one in hand, name it, say what it is, add another."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from intonation.app import instrument_words as words
from intonation.app.choices import Choice
from intonation.app.instrument_choices import ANOTHER, instrument_choices
from intonation.app.instrument_keys import INSTRUMENTS
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.instruments import instrument_list
from intonation.app.screens.choosing import ChoosingPage
from intonation.errors import IntonationError
from intonation.practice.settings import PracticeSettings


class InstrumentsPage(ChoosingPage[PracticeSettings]):
    """The instrument in hand, and all that the player has."""

    keys = INSTRUMENTS
    heading = words.INSTRUMENTS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*INSTRUMENTS, *EVERYWHERE))]

    def choices(self) -> tuple[Choice[PracticeSettings], ...]:
        """Return the lines about the instrument in hand."""
        return instrument_choices(self.program.shelf)

    def settings_now(self) -> PracticeSettings:
        """Return the player's settings."""
        return self.program.settings

    def change_to(self, settings: PracticeSettings) -> None:
        """Take an instrument in hand, as it is described now."""
        self.program.choose(settings)
        self.print_all()

    def body(self) -> ComposeResult:
        """Add the list of all instruments."""
        yield from super().body()
        yield Static(id="instrument-list", markup=False)

    def on_screen_resume(self) -> None:
        """Show what another page may have changed."""
        super().on_screen_resume()
        if self.is_mounted:
            self.print_all()

    def print_all(self) -> None:
        """Print every instrument of the player."""
        settings, shelf = self.settings_now(), self.program.shelf
        lines = instrument_list(
            shelf.own(settings), in_hand=settings.instrument, width=self.print_width
        )
        self.query_one("#instrument-list", Static).update(Content("\n").join(lines))

    def action_add(self) -> None:
        """Ask for the name of another instrument."""
        names = [choice.name for choice in self.lines.choices]
        self.lines.at = names.index(ANOTHER)
        self.action_type()

    def action_forget(self) -> None:
        """Forget the instrument in hand, or say why not."""
        try:
            settings = self.program.shelf.put_away(self.settings_now())
        except IntonationError as error:
            self._say_mistake(str(error))
            return
        self._stop_typing()
        self._change(settings)

    def action_back(self) -> None:
        """Go back to practice."""
        self.dismiss()
