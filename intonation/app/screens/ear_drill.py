"""The page of an ear drill: a sound, a question, an answer by number."""

from __future__ import annotations

from itertools import count, zip_longest
from time import monotonic
from typing import ClassVar

import numpy as np
from textual import on
from textual.binding import BindingType
from textual.widgets import Label
from textual.worker import Worker, WorkerState

from intonation.app import ear_words as words
from intonation.app.ear_drill import Samples, block_of, sound_of
from intonation.app.ear_keys import DRILL
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.screens.ear_page import EarSoundPage
from intonation.language import name_in_words
from intonation.listening.block import Block
from intonation.listening.trials import Answer, Trial
from intonation.practice.ear_choices import EarChoices
from intonation.words.hearing import answer_in_words, condition_name

_LONGEST_LINE = 64


class EarDrillPage(EarSoundPage):
    """Nothing on it moves while something sounds."""

    keys = DRILL
    heading = words.DRILL
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*DRILL, *EVERYWHERE))]

    def __init__(self, chosen: EarChoices) -> None:
        super().__init__(chosen)
        self.block: Block | None = None
        self.samples: Samples | None = None
        self._waits_for_player = False
        self._began_s = 0.0

    def on_mount(self) -> None:
        """Prepare the block."""
        super().on_mount()
        self.print_said(words.PREPARING)
        settings, record = self.program.settings, self.program.ear.record
        self.make(lambda: block_of(self.chosen, settings, record, self.rng))

    @on(Worker.StateChanged)
    def take_made(self, changed: Worker.StateChanged) -> None:
        """Begin with a block, or sound a trial, when it is ready."""
        made = changed.worker.result
        if changed.state is WorkerState.ERROR:
            self.show_troubles((*self.program.troubles, str(changed.worker.error)))
        elif changed.state is WorkerState.SUCCESS and isinstance(made, Block):
            self.block = made
            self._prepare()
        elif changed.state is WorkerState.SUCCESS and isinstance(made, np.ndarray):
            self.samples = made
            self._sound_if_due()

    def sounded(self) -> None:
        """Sound the next trial if the player waits for nothing else."""
        self._sound_if_due()

    def action_answer(self, number: int) -> None:
        """Take an answer and keep it before anything else sounds."""
        block = self.block
        if block is None or block.trial is None or self.samples is not None:
            return
        trial = block.trial
        if not 1 <= number <= len(trial.choices) or self._waits_for_player:
            return
        choice = trial.choices[number - 1]
        answer = Answer(trial=trial, choice=choice)
        self.try_to(lambda: self.program.ear.record.keep(self.program.settings.player, answer))
        told = block.answered(choice, after_s=self._thought_for_s(trial.duration_s))
        self._waits_for_player = told is not None
        self._print_progress(trial)
        if told is not None:
            self.print_said(answer_in_words(told), words.NEXT_WITH_SPACE)
        if block.is_over and told is None:
            self.action_end()
        elif not block.is_over:
            self._prepare()

    def action_next(self) -> None:
        """Go on; a trial that was lost with the sound is sounded again."""
        if self.block is not None and self.block.is_over:
            self.action_end()
        elif self.was_lost and self.block is not None and self.samples is None:
            self._waits_for_player = False
            self._prepare()
        elif self._waits_for_player:
            self._waits_for_player = False
            self._sound_if_due()

    def action_end(self) -> None:
        """End the block and show the result."""
        from intonation.app.screens.ear_result import EarResultPage

        if self.block is None:
            self.dismiss()
            return
        self.block.stop()
        self.app.switch_screen(EarResultPage(self.chosen, block=self.block.result()))

    def _prepare(self) -> None:
        """Make the samples of the trial that comes."""
        trial = self.block.trial if self.block else None
        if trial is not None:
            self.make(lambda: sound_of(trial, self.rng))

    def _sound_if_due(self) -> None:
        """Sound the trial that is ready, once the one before has ended and was read about."""
        if self.samples is None or self.is_sounding or self._waits_for_player:
            return
        samples, self.samples = self.samples, None
        self._began_s = monotonic()
        self.sound(samples)
        self._print_trial()

    def _print_trial(self) -> None:
        block = self.block
        if block is None or block.trial is None:
            return
        trial = block.trial
        self.print_answers(_in_rows([*map(_label, trial.choices, count(1))]))
        self.print_said(words.LISTEN)
        self._print_progress(trial)

    def _print_progress(self, trial: Trial) -> None:
        """Say above the page what is asked about, and how far the block has come."""
        block = self.block
        if block is None:
            return
        done = len(block.result().answers)
        progress = words.progress(block.spent_s, 60.0 * self.chosen.minutes, done)
        name = condition_name(trial.condition)
        self.query_one("#subtitle", Label).update(f"{name} · {progress}")

    def _thought_for_s(self, sounded_s: float) -> float:
        return max(0.0, monotonic() - self._began_s - sounded_s)


def _label(choice: str, number: int) -> str:
    """Return an answer with its number."""
    return choice if choice == str(number) else f"{number} {name_in_words(choice)}"


def _in_rows(labels: list[str]) -> str:
    """Return the answers in one line, or two to a line, each pair under the one before."""
    line = "     ".join(labels)
    if len(line) <= _LONGEST_LINE:
        return line
    width = max(map(len, labels)) + 5
    rows = zip_longest(labels[::2], labels[1::2], fillvalue="")
    return "\n".join(f"{left:{width}}{right}".rstrip() for left, right in rows)
