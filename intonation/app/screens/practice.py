"""The practice page: choose what to play with, then start a take."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from intonation.app import words
from intonation.app.choices import Choice
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.practice_choices import practice_choices
from intonation.app.practice_keys import PRACTICE
from intonation.app.screens.choosing import ChoosingPage
from intonation.practice.settings import PracticeSettings
from intonation.words.cautions import LONG_TONES


class PracticePage(ChoosingPage[PracticeSettings]):
    """Where the program opens."""

    keys = PRACTICE
    heading = words.PRACTICE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*PRACTICE, *EVERYWHERE))]

    def choices(self) -> tuple[Choice[PracticeSettings], ...]:
        """Return the choices before a take."""
        return practice_choices(self.program.shelf)

    def __init__(self) -> None:
        super().__init__()
        self.heard = False

    def settings_now(self) -> PracticeSettings:
        """Return the player's settings."""
        return self.program.settings

    def change_to(self, settings: PracticeSettings) -> None:
        """Make other settings count and remember them; a drone that sounds follows at once."""
        self.program.choose(settings)
        if self.heard:
            self.program.sound_desk.sound_drone()

    def body(self) -> ComposeResult:
        """Add what a take is like, and the caution for long tones."""
        yield from super().body()
        yield Static(id="what-happens", markup=False)
        yield Static(LONG_TONES, id="caution", markup=False)

    def print_all(self) -> None:
        """Say what happens next."""
        text = words.DRONE_SOUNDS if self.heard else words.WHAT_HAPPENS
        self.query_one("#what-happens", Static).update(self.naming(text))

    def action_hear_drone(self) -> None:
        """Let the drone sound, or quiet it."""
        self._hear(not self.heard)

    def on_screen_suspend(self) -> None:
        """Quiet the drone when another page comes: a take begins with its own."""
        if self.heard:
            self._hear(False)

    def _hear(self, heard: bool) -> None:
        self.heard = heard
        if heard:
            self.program.sound_desk.sound_drone()
        else:
            self.program.sound_desk.quiet_drone()
        self.print_all()

    def step(self) -> None:
        """Let the pedal do what Space does."""
        self.action_start()

    def action_start(self) -> None:
        """Start a take."""
        self.program.takes.start()
