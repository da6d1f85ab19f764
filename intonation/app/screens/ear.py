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
from intonation.app.ear_drill import Example, conditions_of, drill_intervals, example_of
from intonation.app.ear_keys import EAR
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.screens.choosing import ChoosingPage
from intonation.errors import IntonationError
from intonation.practice.ear_block import NOTHING_KNOWN, KnownEar
from intonation.practice.ear_choices import EarChoices
from intonation.words.cautions import LOUDNESS
from intonation.words.hearing import (
    condition_name,
    estimate_in_words,
    example_in_words,
    tuned_in_words,
)

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
        self._print_said("")
        self.program.choose_ear(settings)
        self.print_all()

    def body(self) -> ComposeResult:
        """Add what happens, the caution, and the results."""
        yield from super().body()
        yield Static(self.naming(words.WHAT_HAPPENS), id="what-happens", markup=False)
        yield Static(LOUDNESS, id="caution", markup=False)
        yield Static(id="ear-said", markup=False)
        yield Static(id="ear-results", markup=False)

    def on_mount(self) -> None:
        """Look up what is known, in the background."""
        super().on_mount()
        self._print_said("")
        self._look_up()

    def on_screen_resume(self) -> None:
        """Look up again after a drill."""
        super().on_screen_resume()
        if self.is_mounted:
            self._look_up()

    @on(Worker.StateChanged)
    def take_made(self, changed: Worker.StateChanged) -> None:
        """Print what is known, or sound the example that was made."""
        made = changed.worker.result
        if changed.state is WorkerState.ERROR:
            self.show_troubles((*self.program.troubles, str(changed.worker.error)))
        elif changed.state is WorkerState.SUCCESS and isinstance(made, KnownEar):
            self.known = made
            self.print_all()
        elif changed.state is WorkerState.SUCCESS and isinstance(made, Example):
            self._print_said(example_in_words(made.trial))
            self.program.sound_desk.play(made.samples)

    def print_all(self) -> None:
        """Print the latest results of the chosen drill."""
        self.query_one("#ear-results", Static).update(self._results())

    def action_start(self) -> None:
        """Start the drill."""
        from intonation.app.screens.ear_drill import EarDrillPage
        from intonation.app.screens.ear_tuning import EarTuningPage

        chosen = self.program.ear.choices
        self._print_said("")
        self.app.push_screen(EarTuningPage(chosen) if chosen.is_tuning else EarDrillPage(chosen))

    def action_example(self) -> None:
        """Sound an example, and say what to listen for."""
        chosen, settings = self.program.ear.choices, self.program.settings
        self.run_worker(
            lambda: example_of(chosen, settings, self.program.ear.rng),
            group="example",
            thread=True,
            exclusive=True,
            exit_on_error=False,
        )

    def action_back(self) -> None:
        """Go back to practice."""
        self.dismiss()

    def _look_up(self) -> None:
        player, record = self.program.settings.player, self.program.ear.record
        self.run_worker(
            lambda: record.known(player), thread=True, exclusive=True, exit_on_error=False
        )

    def _print_said(self, sentence: str) -> None:
        said = self.query_one("#ear-said", Static)
        said.display = bool(sentence)
        self.query_one("#ear-results").display = not sentence  # both would not fit
        said.update(Content.styled(sentence, STRONG))

    def _results(self) -> Content:
        chosen, known = self.program.ear.choices, self.known
        found = {each: estimate_in_words(each, known.estimates[each]) for each in known.estimates}
        found |= {each: tuned_in_words(each, known.tunings[each]) for each in known.tunings}
        lines = [line for each, line in found.items() if each.drill == chosen.drill]
        shown = [Content.styled(line, TEXT) for line in lines[-_MOST_RESULTS:]]
        nothing = [] if lines else [Content.styled(words.NO_RESULTS, SOFT)]
        return Content("\n").join([*nothing, *shown, Content.styled(self._due(), SOFT)])

    def _due(self) -> str:
        """Return what a block would practise now."""
        program = self.program
        chosen, today = program.ear.choices, program.ear.record.today
        try:
            due = conditions_of(chosen, program.settings, self.known, today=today)
        except IntonationError as error:
            return str(error)
        return words.due_next("; ".join(condition_name(each) for each in due))
