"""The page after an exercise: which notes pulled, where in the chord they stood, what is next."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import words
from intonation.app.exercise_plan import ExercisePlan
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.music import played_music
from intonation.app.screens.page import Page
from intonation.app.take_keys import SUMMARY
from intonation.assessment.melody import MelodyScore
from intonation.language import name_in_words
from intonation.words.melody import NOTHING_PLAYED, melody_lines


class MelodySummaryPage(Page):
    """How an exercise was played.

    Parameters
    ----------
    plan
        What was played.
    rounds
        How each round went.
    """

    keys = SUMMARY
    heading = words.MELODY_SUMMARY
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*SUMMARY, *EVERYWHERE))]

    def __init__(self, plan: ExercisePlan, rounds: tuple[MelodyScore, ...]) -> None:
        super().__init__()
        self.plan = plan
        self.rounds = rounds

    def body(self) -> ComposeResult:
        """Lay out what is next, the rounds, and the whole melody with its cents."""
        yield Static(id="whole", markup=False)
        with VerticalScroll(id="summary-list"):
            yield Static(id="summary-rows", markup=False)

    def on_mount(self) -> None:
        """Say what was played."""
        super().on_mount()
        subtitle = f"{name_in_words(self.plan.exercise.title)} · {words.tempo(self.plan.tempo)}"
        self.query_one("#subtitle", Label).update(subtitle)

    def print_all(self) -> None:
        """Print the last round, and how the rounds compare."""
        if not self.rounds or self.rounds[-1].window_cents is None:
            self.query_one("#whole", Static).update(Content.styled(NOTHING_PLAYED, STRONG))
            return
        *lines, what_next = melody_lines(self.rounds[-1])
        self.query_one("#whole", Static).update(Content.styled(what_next, STRONG))
        played = played_music(self.rounds[-1], tempo=self.plan.tempo, width=self.print_width)
        self.query_one("#summary-rows", Static).update(
            Content("\n").join(
                [
                    *[Content.styled(line, TEXT) for line in lines],
                    *self._rounds_compared(),
                    Content(""),
                    played,
                ]
            )
        )

    def action_scroll(self, lines: int) -> None:
        """Go up or down the list."""
        self.query_one("#summary-list").scroll_relative(y=lines, animate=False)

    def step(self) -> None:
        """Let the pedal do what Space does."""
        self.action_again()

    def action_again(self) -> None:
        """Play it again."""
        self.program.takes.start_melody(self.plan)

    def action_back(self) -> None:
        """Go back to the exercises."""
        self.program.takes.show_exercises()

    def _rounds_compared(self) -> list[Content]:
        if len(self.rounds) < 2:
            return []
        windows = [score.window_cents for score in self.rounds]
        return [Content.styled(words.rounds_compared(windows), SOFT)]
