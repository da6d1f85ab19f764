"""What the pages of an ear drill have in common: sounds made in the background, one at a time."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

import numpy as np
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from intonation.app.ear_drill import Samples
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.screens.page import Page
from intonation.engine.messages import EngineEvent, SoundFault, SoundPlayed
from intonation.errors import IntonationError
from intonation.practice.ear_choices import EarChoices
from intonation.words.hearing import QUESTIONS

_SILENCE = np.zeros(480, dtype=np.float32)


class EarSoundPage(Page):
    """A question, the answers or keys, and what to say about the last one.

    Parameters
    ----------
    chosen
        What was chosen on the page before.
    """

    BINDINGS: ClassVar[list[BindingType]] = []

    def __init__(self, chosen: EarChoices) -> None:
        super().__init__()
        self.chosen = chosen
        self.is_sounding = False
        self.was_lost = False

    @property
    def rng(self) -> np.random.Generator:
        """What draws the trials."""
        return self.program.ear.rng

    def body(self) -> ComposeResult:
        """Lay out the question, the answers, and what was said about the last one."""
        yield Static(Content.styled(QUESTIONS[self.chosen.drill], STRONG), id="task")
        yield Static(id="ear-answers", markup=False)
        yield Static(id="ear-said", markup=False)

    def hear(self, event: EngineEvent) -> None:
        """Follow the sound: it has ended, or it was lost."""
        if isinstance(event, SoundPlayed):
            self.is_sounding = False
            self.sounded()
        elif isinstance(event, SoundFault):
            self.is_sounding, self.was_lost = False, True

    def sounded(self) -> None:
        """Go on when a sound has ended."""

    def sound(self, samples: Samples) -> None:
        """Sound samples at the player's loudness."""
        self.is_sounding, self.was_lost = True, False
        self.program.sound_desk.play(samples)

    def hush(self) -> None:
        """Let what sounds fade."""
        if self.is_sounding:
            self.program.sound_desk.play(_SILENCE)

    def on_unmount(self) -> None:
        """Leave no sound behind."""
        self.hush()

    def make(self, making: Callable[[], object]) -> None:
        """Make something in the background; the page takes it when it is ready."""
        self.run_worker(making, thread=True, exclusive=True, exit_on_error=False)

    def try_to(self, do: Callable[[], None]) -> None:
        """Do something with the record, and say so where it cannot be done."""
        try:
            do()
        except IntonationError as error:
            self.show_troubles((*self.program.troubles, str(error)))

    def print_answers(self, text: str) -> None:
        """Print the answers or keys."""
        self.query_one("#ear-answers", Static).update(Content.styled(self.naming(text), TEXT))

    def print_said(self, *lines: str) -> None:
        """Print what there is to say: the first line strong, the others soft."""
        first, *others = map(self.naming, lines or ("",))
        self.query_one("#ear-said", Static).update(
            Content("\n").join(
                [Content.styled(first, STRONG), *[Content.styled(line, SOFT) for line in others]]
            )
        )
