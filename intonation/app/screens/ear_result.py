"""The page after an ear drill: how fine the ear was, beside what is published, and what is next."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from intonation.app import ear_words as words
from intonation.app.ear_keys import RESULT
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.screens.page import Page
from intonation.listening.adjustment import TunedNote, adjustment_result
from intonation.listening.block import BlockResult
from intonation.listening.drills.remember import RememberAPitch
from intonation.listening.drills.tune_note import WhichNote
from intonation.listening.limens import Task
from intonation.listening.trials import Answer, Condition
from intonation.practice.ear import ear_setting_of
from intonation.practice.ear_block import KnownEar, days_until_due
from intonation.practice.ear_choices import EarChoices
from intonation.words.hearing import (
    HOW_FINE,
    answer_in_words,
    condition_name,
    due_in_words,
    estimate_in_words,
    framed,
    tuned_in_words,
)
from intonation.words.numbers import sharp_or_flat

_ONE_AFTER_THE_OTHER = (RememberAPitch.name, WhichNote.name)


class EarResultPage(Page):
    """What a block has come to.

    Parameters
    ----------
    chosen
        What was chosen.
    block
        The answers, and what they tell; None after tuning.
    tuned
        The notes that were tuned.
    """

    keys = RESULT
    heading = words.RESULT
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*RESULT, *EVERYWHERE))]

    def __init__(
        self,
        chosen: EarChoices,
        *,
        block: BlockResult | None = None,
        tuned: tuple[tuple[Condition, TunedNote], ...] = (),
    ) -> None:
        super().__init__()
        self.chosen, self.block, self.tuned = chosen, block, tuned

    def body(self) -> ComposeResult:
        """Lay out the result, to be scrolled where it is long."""
        with VerticalScroll(id="summary-list"):
            yield Static(id="summary-rows", markup=False)
            yield Static(id="ear-due", markup=False)

    def on_mount(self) -> None:
        """Look up when this is due again, in the background."""
        super().on_mount()
        player, record = self.program.settings.player, self.program.ear.record
        self.run_worker(lambda: record.known(player), thread=True, exit_on_error=False)

    @on(Worker.StateChanged)
    def take_known(self, changed: Worker.StateChanged) -> None:
        """Say when this is due again."""
        known = changed.worker.result
        if changed.state is not WorkerState.SUCCESS or not isinstance(known, KnownEar):
            return
        practised = [each for each, _ in self.tuned]
        practised += list(self.block.estimates) if self.block else []
        today = self.program.ear.record.today
        due = days_until_due(known, tuple(dict.fromkeys(practised)), today=today)
        if due:
            due_again = words.due_again(due_in_words(due))
            self.query_one("#ear-due", Static).update(Content.styled(due_again, TEXT))

    def print_all(self) -> None:
        """Print the result."""
        lines = self._tuned_lines() if self.block is None else self._block_lines(self.block)
        nothing = [Content.styled(words.NOTHING_ANSWERED, STRONG)]
        self.query_one("#summary-rows", Static).update(Content("\n").join(lines or nothing))

    def action_scroll(self, lines: int) -> None:
        """Go up or down."""
        self.query_one("#summary-list").scroll_relative(y=lines, animate=False)

    def action_again(self) -> None:
        """Go back to the choices."""
        self.dismiss()

    def action_back(self) -> None:
        """Go back to the choices."""
        self.dismiss()

    def _block_lines(self, block: BlockResult) -> list[Content]:
        if not block.answers:
            return []
        found = [
            Content.styled(_capital(estimate_in_words(condition, each)), STRONG)
            for condition, each in block.estimates.items()
        ]
        explained = [*self._framed(block), HOW_FINE]
        in_summary = self.chosen.feedback == "in summary"
        told = [Content(""), *_told(block.answers)] if in_summary else []
        return [*found, Content(""), *[Content.styled(line, SOFT) for line in explained], *told]

    def _framed(self, block: BlockResult) -> list[str]:
        """Return the published thresholds beside the finest result."""
        measured = [each for each in block.estimates.values() if each.standing == "measured"]
        if not measured:
            return []
        finest = min(measured, key=lambda each: each.blur_cents.value)
        apart = self.chosen.drill in _ONE_AFTER_THE_OTHER
        task: Task = "tone after tone" if apart else "over a drone"
        setting = ear_setting_of(self.program.settings)
        middle_hz = setting.tuning.hz(setting.low_midi[-1])
        return list(framed(finest, task=task, hz=middle_hz))

    def _tuned_lines(self) -> list[Content]:
        conditions = dict.fromkeys(condition for condition, _ in self.tuned)
        lines = []
        for condition in conditions:
            notes = [note for of, note in self.tuned if of == condition]
            result = tuned_in_words(condition, adjustment_result(notes))
            lines.append(Content.styled(_capital(result), STRONG))
            every = ", ".join(sharp_or_flat(note.final_cents, 1) for note in notes)
            lines.append(Content.styled(_capital(f"{every}."), SOFT))
        return lines


def _short(answer: Answer) -> str:
    return condition_name(answer.trial.condition, short=True)


def _told(answers: tuple[Answer, ...]) -> list[Content]:
    return [
        Content.styled(f"{number:2}  {_short(answer)}: {answer_in_words(answer)}", TEXT)
        for number, answer in enumerate(answers, start=1)
    ]


def _capital(sentence: str) -> str:
    return sentence[0].upper() + sentence[1:]
