"""The check page: who plays what, how thoroughly; then the check begins or goes on."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

import numpy as np
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from intonation.app import check_words
from intonation.app.check_choices import CheckChoices, check_choices
from intonation.app.check_keys import CHECK
from intonation.app.choices import Choice
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.screens.choosing import ChoosingPage
from intonation.errors import IntonationError
from intonation.words.check import LIGHT_HEADED, WARM_UP, minutes_in_words

if TYPE_CHECKING:
    from intonation.app.check_desk import CheckDesk
    from intonation.engine.guided_check import GuidedCheck
    from intonation.store.checks import CheckRecord


class CheckPage(ChoosingPage[CheckChoices]):
    """Where a check begins.

    Parameters
    ----------
    desk
        What the check asks of the program.
    choices
        What is chosen at first.
    """

    keys = CHECK
    heading = check_words.CHECK
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*CHECK, *EVERYWHERE))]

    def __init__(self, desk: CheckDesk, choices: CheckChoices) -> None:
        super().__init__()
        self.desk, self.bench = desk, desk.bench
        self.chosen = choices
        self.unfinished: CheckRecord | None = None
        self.known = self._known()

    def choices(self) -> tuple[Choice[CheckChoices], ...]:
        """Return the choices before a check."""
        return check_choices(self.known, self.program.shelf)

    def settings_now(self) -> CheckChoices:
        """Return what is chosen."""
        return self.chosen

    def change_to(self, settings: CheckChoices) -> None:
        """Make other choices count."""
        self.chosen = settings
        self.desk.remember_room(settings.practice.temperature_c)
        self._look_again()

    def body(self) -> ComposeResult:
        """Add what happens next, the reminder to warm up, and the caution."""
        yield from super().body()
        yield Static(id="what-happens", markup=False)
        yield Static(f"{WARM_UP} {LIGHT_HEADED}", id="caution", markup=False)

    def on_mount(self) -> None:
        """See whether a check was broken off."""
        super().on_mount()
        self._look_again()

    def on_screen_resume(self) -> None:
        """See what a check has left behind."""
        super().on_screen_resume()
        if self.is_mounted:
            self._look_again()

    def print_all(self) -> None:
        """Say what Space does."""
        if self.unfinished is not None:
            text = check_words.broken_off(self.unfinished)
        else:
            text = self._begins()
        self.query_one("#what-happens", Static).update(self.naming(text))

    def _begins(self) -> str:
        if self.program.sound.simulated:
            return check_words.begins_simulated()
        return check_words.begins(minutes_in_words(self.chosen.minutes))

    def action_start(self) -> None:
        """Begin, or go on with a check that was broken off."""
        record, settings = self.unfinished, self.chosen.settings
        if record is None:
            self.action_anew()
            return
        self._try(lambda: self.bench.go_on(record, settings))

    def action_anew(self) -> None:
        """Begin a new check."""
        chosen = self.chosen
        order = np.random.default_rng(self.desk.seed())
        self._try(lambda: self.bench.begin(chosen.settings, order, notes=chosen.chosen_notes))

    def action_verdict(self) -> None:
        """See what the checks on file say."""
        self.desk.verdict(self.chosen.settings)

    def action_compare(self) -> None:
        """Compare sittings."""
        self.desk.compare(self.chosen.settings)

    def action_back(self) -> None:
        """Go back to practice."""
        self.dismiss()

    def _try(self, begun: Callable[[], GuidedCheck]) -> None:
        try:
            guided = begun()
        except IntonationError as error:
            self._say_mistake(str(error))
            return
        self.desk.start(guided)

    def _known(self) -> tuple[CheckRecord, ...]:
        try:
            return self.bench.known()
        except IntonationError:
            return ()

    def _look_again(self) -> None:
        try:
            pair = self.chosen.settings
            self.unfinished = self.bench.unfinished(pair.player, pair.instrument)
        except IntonationError as error:
            self._say_mistake(str(error))
        self.print_all()
