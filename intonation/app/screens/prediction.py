"""The prediction page: what some work would do to every note, before anything is touched."""

from __future__ import annotations

from typing import ClassVar

import numpy as np
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from intonation.app import workshop_words
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.workshop import prediction
from intonation.app.screens.page import Page
from intonation.app.screens.working import SCROLLBAR
from intonation.app.widgets.typed_value import TypedValue
from intonation.app.workshop_keys import PREDICTION
from intonation.engine.workbench import Workbench
from intonation.errors import IntonationError
from intonation.workshop.examining import Examination
from intonation.workshop.planning import PlannedWork, predicted
from intonation.workshop.proposal import LARGEST_MM, MOVES_MM


class PredictionPage(Page):
    """Some work, its prediction and its cautions.

    Parameters
    ----------
    bench
        Keeps the trial, if it is made.
    found
        The instrument as it is.
    work
        What is looked at.
    """

    keys = PREDICTION
    heading = workshop_words.PREDICTION
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*PREDICTION, *EVERYWHERE))]

    def __init__(self, bench: Workbench, found: Examination, work: PlannedWork) -> None:
        super().__init__()
        self.bench = bench
        self.found = found
        self.work = work
        self.logged = False

    def body(self) -> ComposeResult:
        """Lay out the prediction, and the line for a note of the player's own."""
        with VerticalScroll(id="workshop-list"):
            yield Static(id="workshop-rows", markup=False)
        yield Static(id="next", markup=False)
        yield TypedValue(id="typed", placeholder=workshop_words.NOTE_OF_TRIAL)
        yield Static(id="mistake", markup=False)

    def on_mount(self) -> None:
        """Begin with nothing to type."""
        super().on_mount()
        self._stop_typing()

    def print_all(self) -> None:
        """Print the prediction."""
        text = prediction(self.work, width=self.print_width - SCROLLBAR)
        self.query_one("#workshop-rows", Static).update(text)
        simulated = self.program.sound.two_faults
        told = workshop_words.NEXT_SIMULATED_WORK if simulated else workshop_words.NEXT_WORK
        place = self.query_one("#next", Static)
        place.display = True
        place.update(self.naming(told))

    def action_scroll(self, lines: int) -> None:
        """Go up or down the page."""
        self.query_one("#workshop-list", VerticalScroll).scroll_relative(y=lines, animate=False)

    def action_step(self, steps: int) -> None:
        """Predict more or less of the same work, in steps that a hand can do."""
        changed = []
        for alteration in self.work.alterations:
            step, most = MOVES_MM[alteration.work], LARGEST_MM[alteration.work]
            amount = min(max(alteration.amount_mm + steps * step, step), most)
            changed.append(alteration.by(round(amount, 3)))
        cents = np.array(self.work.before_cents)
        self.work = predicted(self.found.compass, changed, cents, reason=self.work.reason)
        self.print_all()

    def action_log(self) -> None:
        """Ask for a word of the player's own before the trial is kept."""
        typed = self.query_one(TypedValue)
        typed.display = True
        typed.focus()

    @on(TypedValue.Submitted)
    def keep(self, submitted: TypedValue.Submitted) -> None:
        """Keep the trial."""
        note = " ".join(submitted.value.split())
        try:
            self.bench.log(self.found.player, self.found.instrument, self.work, note=note)
        except IntonationError as error:
            self.query_one("#mistake", Static).update(str(error))
            return
        self.logged = True
        self.program.sound_desk.follow_trials()
        self.dismiss()

    @on(TypedValue.Left)
    def leave_typed(self) -> None:
        """Keep nothing."""
        self._stop_typing()

    def _stop_typing(self) -> None:
        self.query_one(TypedValue).display = False
        self.set_focus(None)

    def action_back(self) -> None:
        """Go back; nothing is kept."""
        self.dismiss()
