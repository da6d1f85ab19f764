"""The page on which a note is tuned by ear: keys move it, and nothing tells how far off it is."""

from __future__ import annotations

from typing import ClassVar

import numpy as np
from textual import on
from textual.binding import BindingType
from textual.widgets import Label
from textual.worker import Worker, WorkerState

from intonation.app import ear_words as words
from intonation.app.ear_drill import notes_to_tune, sound_to_tune
from intonation.app.ear_keys import TUNING
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.screens.ear_page import EarSoundPage
from intonation.language import say
from intonation.listening.adjustment import TunedNote
from intonation.listening.drills.tune_it import NoteToTune, TuneIt
from intonation.listening.trials import Condition
from intonation.practice.ear import ear_setting_of
from intonation.practice.ear_choices import EarChoices
from intonation.words.hearing import condition_name
from intonation.words.numbers import sharp_or_flat

NOTES_IN_BLOCK = 12
_SOUNDS_FOR_S = 3.0


class EarTuningPage(EarSoundPage):
    """Every key sounds the note anew where it has come to stand."""

    keys = TUNING
    heading = words.TUNING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*TUNING, *EVERYWHERE))]

    def __init__(self, chosen: EarChoices) -> None:
        super().__init__(chosen)
        self.tuned: list[tuple[Condition, TunedNote]] = []
        self.note: NoteToTune | None = None
        self.conditions: tuple[Condition, ...] = ()
        self._is_left = False

    def on_mount(self) -> None:
        """Give the first note."""
        super().on_mount()
        self.print_answers(words.TUNE_NOW)
        self.drill = TuneIt(ear_setting_of(self.program.settings))
        settings, record = self.program.settings, self.program.ear.record
        self.make(lambda: notes_to_tune(self.chosen, settings, record))

    @on(Worker.StateChanged)
    def take_made(self, changed: Worker.StateChanged) -> None:
        """Give the first note when it is known what is due; sound it where it stands now."""
        made = changed.worker.result
        if changed.state is WorkerState.ERROR:
            self.show_troubles((*self.program.troubles, str(changed.worker.error)))
        elif changed.state is WorkerState.SUCCESS and isinstance(made, np.ndarray):
            self.sound(made)
        elif changed.state is WorkerState.SUCCESS and isinstance(made, tuple):
            self.conditions = made
            self._give_note()

    def action_turn(self, coarse: int, fine: int) -> None:
        """Move the note and sound it."""
        if self.note is not None and not self._is_left:
            self.note = self.note.turned(coarse=coarse, fine=fine)
            self._sound()

    def action_next(self) -> None:
        """Leave the note as it stands; when that was read about, give the next one."""
        if self._is_left:
            self._go_on()
        elif self.note is not None:
            self._leave(self.note)

    def action_end(self) -> None:
        """End the block and show the result."""
        from intonation.app.screens.ear_result import EarResultPage

        self.app.switch_screen(EarResultPage(self.chosen, tuned=tuple(self.tuned)))

    def _leave(self, note: NoteToTune) -> None:
        left = note.left()
        self.tuned.append((note.condition, left))
        player, record = self.program.settings.player, self.program.ear.record
        self.try_to(lambda: record.keep_tuned(player, note.condition, left))
        self.hush()
        if self.chosen.feedback == "after each answer":
            self._is_left = True
            self.print_said(f"{sharp_or_flat(left.final_cents, 1)}.", words.NEXT_WITH_SPACE)
        else:
            self._go_on()

    def _go_on(self) -> None:
        self._is_left = False
        if len(self.tuned) >= NOTES_IN_BLOCK:
            self.action_end()
        else:
            self._give_note()

    def _give_note(self) -> None:
        condition = self.conditions[int(self.rng.integers(len(self.conditions)))]
        before = [note for of, note in self.tuned if of == condition]
        self.note = self.drill.note_to_tune(condition, self.rng, before=before)
        progress = say("{number} of {count}", number=len(self.tuned) + 1, count=NOTES_IN_BLOCK)
        self.query_one("#subtitle", Label).update(f"{condition_name(condition)} · {progress}")
        self.print_said(words.LISTEN)
        self._sound()

    def _sound(self) -> None:
        note = self.note
        if note is not None:
            self.make(lambda: sound_to_tune(note, self.rng, seconds=_SOUNDS_FOR_S))
