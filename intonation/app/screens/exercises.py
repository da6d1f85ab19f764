"""The exercises page: what there is to play, what to listen for, and how it is to be played."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Label, OptionList, Static
from textual.widgets.option_list import Option

from intonation.app import words
from intonation.app.exercise_keys import EXERCISES
from intonation.app.exercise_plan import ExercisePlan
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.exercise import exercise_description
from intonation.app.printing.inks import SOFT
from intonation.app.screens.page import Page
from intonation.errors import IntonationError
from intonation.exercise.library import exercise_named, library


class ExercisesPage(Page):
    """The library, in the order in which one learns to hear.

    Parameters
    ----------
    plan
        The exercise to mark, as it was played last; None for the first.
    """

    keys = EXERCISES
    heading = words.EXERCISES
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*EXERCISES, *EVERYWHERE))]

    def __init__(self, plan: ExercisePlan | None = None) -> None:
        super().__init__()
        self.plan = plan

    def body(self) -> ComposeResult:
        """Lay out the list, and beside it the marked exercise."""
        with Horizontal(id="library"):
            titles = OptionList(*_options(), id="titles", compact=True)
            titles.can_focus = False
            yield titles
            with VerticalScroll(id="exercise"):
                yield Static(id="description", markup=False)

    def on_mount(self) -> None:
        """Say for which instrument, and mark the first exercise."""
        super().on_mount()
        self.query_one("#subtitle", Label).update(words.fitted_to(self.program.settings))
        self._mark_plan()

    @property
    def titles(self) -> OptionList:
        """The list."""
        return self.query_one("#titles", OptionList)

    @on(OptionList.OptionHighlighted)
    def mark(self, highlighted: OptionList.OptionHighlighted) -> None:
        """Show the marked exercise as it is written."""
        name = highlighted.option.id
        if name is not None and (self.plan is None or name != self.plan.exercise.name):
            self.plan = ExercisePlan.of(exercise_named(name))
        self.print_all()

    @on(OptionList.OptionSelected)
    def take_click(self, _: OptionList.OptionSelected) -> None:
        """Do nothing more: a click marks an exercise, a key plays it."""

    def print_all(self) -> None:
        """Print the marked exercise and how it is to be played."""
        if self.plan is not None:
            width = self.query_one("#exercise").content_size.width
            text = exercise_description(
                self.plan,
                self.program.settings,
                headphones=self.program.sound.headphones,
                width=width,
            )
            self.query_one("#description", Static).update(text)

    def action_move(self, lines: int) -> None:
        """Mark another exercise."""
        if lines > 0:
            self.titles.action_cursor_down()
        else:
            self.titles.action_cursor_up()

    def action_tempo(self, beats: int) -> None:
        """Play it faster or slower."""
        self._change(self.plan and self.plan.faster(beats))

    def action_phrase(self) -> None:
        """Play the next phrase alone, or all of them."""
        self._change(self.plan and self.plan.with_next_phrase())

    def action_rounds(self) -> None:
        """Play it once more in a row."""
        self._change(self.plan and self.plan.with_next_rounds())

    def action_melody(self) -> None:
        """Let the melody sound too, or not."""
        self._change(self.plan and self.plan.with_other_melody())

    def action_play(self) -> None:
        """Play it."""
        if self.plan is None:
            return
        try:
            self.program.start_melody(self.plan)
        except IntonationError as error:
            self.show_troubles((*self.program.troubles, str(error)))

    def action_back(self) -> None:
        """Go back to the choices."""
        self.dismiss()

    def _mark_plan(self) -> None:
        """Mark the exercise that was played last, or the first."""
        if self.plan is None:
            self.titles.action_first()
        else:
            self.titles.highlighted = self.titles.get_option_index(self.plan.exercise.name)

    def _change(self, plan: ExercisePlan | None) -> None:
        self.plan = plan
        self.print_all()


def _options() -> list[Option | None]:
    """Return the titles under the headings of their kinds."""
    options: list[Option | None] = []
    kind = ""
    for exercise in library():
        if exercise.kind != kind:
            kind = exercise.kind
            heading = Content.styled(words.kind_of_exercise(kind), SOFT)
            options.append(Option(heading, disabled=True))
        options.append(Option(Content(f"  {exercise.title}"), id=exercise.name))
    return options
