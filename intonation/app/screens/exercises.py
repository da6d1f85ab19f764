"""The exercises page: what there is to play, what to listen for, and how it is to be played."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Label, OptionList, Static
from textual.widgets.option_list import Option

from intonation.app import exercise_words, words
from intonation.app.exercise_keys import EXERCISES
from intonation.app.exercise_plan import ExercisePlan
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.exercise import exercise_description
from intonation.app.printing.inks import SOFT
from intonation.app.screens.page import Page
from intonation.errors import IntonationError
from intonation.exercise.library import library
from intonation.exercise.pieces import Exercise
from intonation.language import name_in_words
from intonation.store.own_exercises import own_exercises

_OWN = "own/"
_MOST_MISTAKES = 2


class ExercisesPage(Page):
    """The library, in the order in which one learns to hear.

    Parameters
    ----------
    plan
        The exercise to mark, as it was played last; None for the first.
    folder
        Where the player's own exercises lie.
    """

    keys = EXERCISES
    heading = words.EXERCISES
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*EXERCISES, *EVERYWHERE))]

    def __init__(self, plan: ExercisePlan | None, folder: Path) -> None:
        super().__init__()
        self.plan = plan
        self.own = own_exercises(folder)
        self.exercises = _by_id(self.own.exercises)
        self.folder = folder

    def body(self) -> ComposeResult:
        """Lay out the list, and beside it the marked exercise."""
        with Horizontal(id="library"):
            titles = OptionList(*self._options(), id="titles", compact=True)
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
        exercise = self.exercises[highlighted.option.id or ""]
        if self.plan is None or exercise != self.plan.exercise:
            self.plan = ExercisePlan.of(exercise, like=self.plan)
        self.print_all()

    @on(OptionList.OptionSelected)
    def take_click(self, _: OptionList.OptionSelected) -> None:
        """Do nothing more: a click marks an exercise, a key plays it."""

    def print_all(self) -> None:
        """Print the marked exercise and how it is to be played."""
        if self.plan is not None:
            width = self.query_one("#exercise").scrollable_content_region.width
            text = exercise_description(
                self.plan,
                self.program.settings,
                headphones=self.program.sound.headphones,
                width=width,
            )
            self.query_one("#description", Static).update(text)

    def show_troubles(self, troubles: tuple[str, ...]) -> None:
        """Say also which of the player's own files cannot be read."""
        super().show_troubles((*troubles, *self.own.mistakes[:_MOST_MISTAKES]))

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

    def action_chords(self) -> None:
        """Tune the chords in the next way."""
        self._change(self.plan and self.plan.with_next_harmony())

    def action_count_in(self) -> None:
        """Count more or fewer bars before the first note."""
        self._change(self.plan and self.plan.with_next_count_in())

    def action_import_music(self) -> None:
        """Make an exercise of the player's own music."""
        from intonation.app.screens.import_music import ImportPage

        self.program.push_screen(ImportPage(self.folder))

    def step(self) -> None:
        """Let the pedal do what Space does."""
        self.action_play()

    def action_play(self) -> None:
        """Play it."""
        if self.plan is None:
            return
        try:
            self.program.takes.start_melody(self.plan)
        except IntonationError as error:
            self.show_troubles((*self.program.troubles, str(error)))

    def action_back(self) -> None:
        """Go back to the choices."""
        self.dismiss()

    def _mark_plan(self) -> None:
        """Mark the exercise that was played last, or the first."""
        played = self.plan.exercise if self.plan else None
        marked = [name for name, exercise in self.exercises.items() if exercise == played]
        if marked:
            self.titles.highlighted = self.titles.get_option_index(marked[0])
        else:
            self.titles.action_first()

    def _options(self) -> Iterator[Option]:
        """Yield the titles under the headings of their kinds, the player's own last."""
        before = ""
        for name, exercise in self.exercises.items():
            heading = _heading(name, exercise)
            if heading != before:
                before = heading
                yield Option(Content.styled(heading, SOFT), disabled=True)
            yield Option(Content(f"  {name_in_words(exercise.title)}"), id=name)

    def _change(self, plan: ExercisePlan | None) -> None:
        self.plan = plan
        self.print_all()


def _by_id(own: tuple[Exercise, ...]) -> dict[str, Exercise]:
    """Return every exercise by a name that no other has: the library's, then the player's own."""
    shipped = {exercise.name: exercise for exercise in library()}
    return shipped | {f"{_OWN}{exercise.name}": exercise for exercise in own}


def _heading(name: str, exercise: Exercise) -> str:
    if name.startswith(_OWN):
        return exercise_words.OWN
    return words.kind_of_exercise(exercise.kind)
