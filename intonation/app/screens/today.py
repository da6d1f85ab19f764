"""The page of today's practice: a plan from the player's own record, one key for each next step."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static
from textual.worker import Worker, WorkerState

from intonation.app import today_words
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.habits import SCROLLBAR, sentences
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.today import plan_rows
from intonation.app.screens.page import Page
from intonation.app.today_keys import TODAY
from intonation.app.today_state import TodayState
from intonation.app.today_steps import (
    USUAL_MINUTES,
    against_drone,
    choices_of,
    ear_drill,
    exercise_plan,
)
from intonation.engine.messages import EngineEvent, MelodyEnded
from intonation.errors import IntonationError
from intonation.exercise.pieces import Exercise
from intonation.habits.ear_needs import EarNeed
from intonation.habits.needs import NoteNeed
from intonation.habits.practice_plan import Choices, Step
from intonation.practice.events import TakeEnded
from intonation.practice.settings import PracticeSettings
from intonation.words.cautions import LONG_TONES
from intonation.words.today import before_the_plan, note_aim_in_words

ROOMY = 30
"""From this height on there is room for blank lines and the caution."""


class TodayPage(Page):
    """The plan. Takes and exercises that it starts lead back to it."""

    keys = TODAY
    heading = today_words.TODAY
    is_home = True
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*TODAY, *EVERYWHERE))]

    def body(self) -> ComposeResult:
        """Lay out the steps, and how the plan is used."""
        with VerticalScroll(id="habit-list"):
            yield Static(id="habit-rows", markup=False)
        yield Static(id="habit-foot", markup=False)

    @property
    def state(self) -> TodayState | None:
        """The plan as it stands; None while it is being made."""
        return self.program.today

    def on_mount(self) -> None:
        """Make a plan, unless there is one for this player and instrument."""
        super().on_mount()
        self.complaint = ""
        settings = self.program.settings
        if self.state is None or self.program.today_is_for != _whose(settings):
            self.program.today = None
            opened = self.program.surroundings.habits
            self.run_worker(
                lambda: choices_of(settings, opened),
                thread=True,
                exclusive=True,
                exit_on_error=False,
            )

    @on(Worker.StateChanged)
    def take_choices(self, changed: Worker.StateChanged) -> None:
        """Print the plan, or what stood in its way."""
        result, error = changed.worker.result, changed.worker.error
        if changed.state is WorkerState.SUCCESS and isinstance(result, Choices):
            self.program.today_is_for = _whose(self.program.settings)
            self._change(TodayState.of(result, USUAL_MINUTES))
        elif changed.state is WorkerState.ERROR:
            if not isinstance(error, IntonationError):
                raise error or RuntimeError
            self.complaint = str(error)
            self.print_all()

    def hear(self, event: EngineEvent) -> None:
        """Mark a step as done when its take or exercise is over."""
        was_played = (isinstance(event, TakeEnded) and event.summary.notes) or (
            isinstance(event, MelodyEnded) and event.rounds
        )
        if was_played and self.state is not None:
            self._change(self.state.finished())

    def on_screen_resume(self) -> None:
        """Mark an ear drill as done when one comes back from it."""
        if not self.is_mounted or self.state is None:
            return
        step = self.state.step
        if step is not None and isinstance(step.choice, EarNeed):
            self._change(self.state.finished())
        self.print_all()

    def _change(self, state: TodayState) -> None:
        self.program.today = state
        self.print_all()

    def print_all(self) -> None:
        """Print the plan."""
        if not self.is_mounted:
            return
        rows, foot = self.query_one("#habit-rows", Static), self.query_one("#habit-foot", Static)
        state, width = self.state, self.print_width
        if state is None:
            text = self.complaint or today_words.LOOKING
            rows.update(Content("\n").join(sentences([text], width=width, ink=STRONG)))
            foot.update("")
            return
        settings = self.program.settings
        whose = f"{settings.player} · {settings.instrument} · {today_words.minutes(state.minutes)}"
        self.query_one("#subtitle", Label).update(Content(whose))
        printed = plan_rows(state, width=width - SCROLLBAR, airy=self._is_roomy)
        rows.update(Content("\n").join([line for row in printed for line in row]))
        foot.update(self._foot(state))
        row = sum(map(len, printed[: state.at]))
        self.once_drawn(lambda: self._keep_in_sight(row))

    @property
    def _is_roomy(self) -> bool:
        return self.size.height >= ROOMY

    def _foot(self, state: TodayState) -> Content:
        first = today_words.ALL_DONE if state.is_over else today_words.HOW_IT_GOES
        lines = sentences([self.naming(first)], width=self.print_width, ink=STRONG)
        more = before_the_plan(state.choices)
        if self._is_roomy:
            more = (*more, LONG_TONES)
        return Content("\n").join([*lines, *sentences(more, width=self.print_width, ink=SOFT)])

    def _keep_in_sight(self, row: int) -> None:
        listed = self.query_one("#habit-list", VerticalScroll)
        if not listed.scroll_y <= row < listed.scroll_y + listed.size.height - 1:
            listed.scroll_to(y=row, animate=False)

    def action_move(self, steps: int) -> None:
        """Mark another step."""
        if self.state is not None:
            self._change(self.state.moved(steps))

    def action_length(self, change: int) -> None:
        """Make the plan longer or shorter."""
        if self.state is not None:
            self._change(self.state.of_other_length(change))

    def action_another(self) -> None:
        """Put something else in place of the marked step."""
        if self.state is not None:
            self._change(self.state.with_another())

    def action_leave_out(self) -> None:
        """Leave the marked step out."""
        if self.state is not None:
            self._change(self.state.without_step())

    def action_start(self) -> None:
        """Start the marked step."""
        step = self.state.step if self.state is not None else None
        if self.state is None or step is None:
            return
        self._change(self.state.started())
        match step.choice:
            case NoteNeed(midi=midi):
                settings = against_drone(self.program.settings, midi)
                self.program.takes.start(settings, aim=note_aim_in_words(step))
            case EarNeed(drill=drill):
                self._start_ear(drill, step)
            case Exercise():
                self._start_exercise(step.choice, step)

    def _start_exercise(self, exercise: Exercise, step: Step) -> None:
        try:
            self.program.takes.start_melody(exercise_plan(exercise, step))
        except IntonationError as error:
            self.show_troubles((*self.program.troubles, str(error)))

    def _start_ear(self, drill: str, step: Step) -> None:
        from intonation.app.screens.ear_drill import EarDrillPage
        from intonation.app.screens.ear_tuning import EarTuningPage

        chosen = ear_drill(self.program.ear.choices, drill, step)
        self.app.push_screen(EarTuningPage(chosen) if chosen.is_tuning else EarDrillPage(chosen))

    def action_back(self) -> None:
        """Go back to practice."""
        self.dismiss()


def _whose(settings: PracticeSettings) -> tuple[str, str]:
    return settings.player, settings.instrument
