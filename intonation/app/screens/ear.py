"""The page before an ear drill: what to listen for, and what was found so far."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from intonation.app import ear_words as words
from intonation.app.choices import Choice
from intonation.app.ear_choices import ear_choices
from intonation.app.ear_drill import drill_intervals
from intonation.app.ear_keys import EAR
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT, TEXT
from intonation.app.screens.choosing import ChoosingPage
from intonation.practice.ear_block import NOTHING_KNOWN, KnownEar
from intonation.practice.ear_choices import EarChoices
from intonation.words.cautions import LOUDNESS
from intonation.words.hearing import estimate_in_words

_MOST_RESULTS = 5


class EarPage(ChoosingPage[EarChoices]):
    """Choices on the left, what they mean on the right, the latest results below."""

    keys = EAR
    heading = words.EAR
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*EAR, *EVERYWHERE))]

    def __init__(self) -> None:
        super().__init__()
        self.known: KnownEar = NOTHING_KNOWN

    def choices(self) -> tuple[Choice[EarChoices], ...]:
        """Return the lines, with what each drill can be about on the player's instrument."""
        return ear_choices(drill_intervals(self.program.settings))

    def settings_now(self) -> EarChoices:
        """Return what is chosen."""
        return self.program.ear.choices

    def change_to(self, settings: EarChoices) -> None:
        """Remember another choice."""
        self.program.choose_ear(settings)
        self.print_all()

    def body(self) -> ComposeResult:
        """Add what happens, the caution, and the results."""
        yield from super().body()
        yield Static(words.WHAT_HAPPENS, id="what-happens", markup=False)
        yield Static(LOUDNESS, id="caution", markup=False)
        yield Static(id="ear-results", markup=False)

    def on_mount(self) -> None:
        """Look up what is known, in the background."""
        super().on_mount()
        self._look_up()

    def on_screen_resume(self) -> None:
        """Look up again after a drill."""
        super().on_screen_resume()
        if self.is_mounted:
            self._look_up()

    @on(Worker.StateChanged)
    def take_known(self, changed: Worker.StateChanged) -> None:
        """Print what is known."""
        if changed.state is WorkerState.SUCCESS and isinstance(changed.worker.result, KnownEar):
            self.known = changed.worker.result
            self.print_all()
        elif changed.state is WorkerState.ERROR:
            self.show_troubles((*self.program.troubles, str(changed.worker.error)))

    def print_all(self) -> None:
        """Print the latest results of the chosen drill."""
        self.query_one("#ear-results", Static).update(self._results())

    def action_start(self) -> None:
        """Start the drill."""
        from intonation.app.screens.ear_drill import EarDrillPage
        from intonation.app.screens.ear_tuning import EarTuningPage

        chosen = self.program.ear.choices
        self.app.push_screen(EarTuningPage(chosen) if chosen.is_tuning else EarDrillPage(chosen))

    def action_back(self) -> None:
        """Go back to practice."""
        self.dismiss()

    def _look_up(self) -> None:
        player, record = self.program.settings.player, self.program.ear.record
        self.run_worker(
            lambda: record.known(player), thread=True, exclusive=True, exit_on_error=False
        )

    def _results(self) -> Content:
        chosen = self.program.ear.choices
        lines = [
            estimate_in_words(condition, found)
            for condition, found in self.known.estimates.items()
            if condition.drill == chosen.drill
        ][-_MOST_RESULTS:]
        if not lines and not chosen.is_tuning:
            return Content.styled(words.NO_RESULTS, SOFT)
        return Content("\n").join([Content.styled(line, TEXT) for line in lines])
