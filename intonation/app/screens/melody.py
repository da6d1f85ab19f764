"""The melody page: the phrase to play, and under it how the phrase before it was played."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import words
from intonation.app.exercise_keys import MELODY
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.melody_state import MelodyState
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.music import music, played_music
from intonation.app.screens.page import Page
from intonation.engine.messages import EngineEvent
from intonation.exercise.score import Score
from intonation.words.melody import melody_lines


class MelodyPage(Page):
    """The page while an exercise sounds. What it shows goes with the time, never with the pitch.

    Parameters
    ----------
    title
        What the exercise is called.
    score
        The exercise as it sounds.
    """

    keys = MELODY
    heading = words.MELODY_PAGE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*MELODY, *EVERYWHERE))]

    def __init__(self, title: str, score: Score) -> None:
        super().__init__()
        self.exercise_title = title
        self.score = score
        self.state = MelodyState()

    def body(self) -> ComposeResult:
        """Lay out what to play, and how the phrase before it was."""
        yield Static(id="task", markup=False)
        yield Static(id="music", markup=False)
        yield Static(id="coming", markup=False)
        yield Static(id="played", markup=False)

    def on_mount(self) -> None:
        """Say what is played, and how fast."""
        super().on_mount()
        subtitle = f"{self.exercise_title} · {words.tempo(self.score.tempo)}"
        self.query_one("#subtitle", Label).update(subtitle)

    @property
    def begun(self) -> bool:
        """Whether it was time for a note already."""
        return self.state.due is not None

    def hear(self, event: EngineEvent) -> None:
        """Print the phrase that it is time for, and the score of one that is over."""
        before, self.state = self.state, self.state.after(event)
        if self.is_mounted and self.state != before:
            self.print_all()

    def print_all(self) -> None:
        """Print the whole page."""
        due = self.state.due
        phrase = self.score.notes[due.number].phrase if due else 0
        task = words.play_phrase(phrase, len(self.score.phrases)) if due else words.COUNT_IN
        self.query_one("#task", Static).update(Content.styled(task, STRONG))
        self.query_one("#music", Static).update(
            self._music(phrase, TEXT, due=due.number if due else None)
        )
        self.query_one("#coming", Static).update(self._music(phrase + 1, SOFT))
        self._print_played()

    def step(self) -> None:
        """Let the pedal do what Space does."""
        self.action_end()

    def action_end(self) -> None:
        """End the exercise."""
        self.program.takes.end()

    def _music(self, phrase: int, ink: str, *, due: int | None = None) -> Content:
        notes = [note for note in self.score.notes if note.phrase == phrase]
        return music(notes, tempo=self.score.tempo, width=self.print_width, due=due, ink=ink)

    def _print_played(self) -> None:
        place, scored = self.query_one("#played", Static), self.state.scored
        place.display = scored is not None
        if scored is None:
            return
        heading = Content.styled(words.played_phrase(scored.number), SOFT)
        played = played_music(scored.score, tempo=self.score.tempo, width=self.print_width)
        *lines, what_next = melody_lines(scored.score)
        rows = [Content.styled(what_next, STRONG), *[Content.styled(one, TEXT) for one in lines]]
        place.update(Content("\n").join([heading, played, Content(""), *rows]))
