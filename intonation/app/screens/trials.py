"""The trials page: what was tried on the instrument, and what the marked trial did."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from intonation.app import workshop_words
from intonation.app.background import Progress
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.workshop import proof, trials, wrapped
from intonation.app.screens.working import WorkingPage
from intonation.app.workshop_keys import TRIALS
from intonation.engine.workbench import Workbench
from intonation.errors import IntonationError
from intonation.workshop.proof import Proof
from intonation.workshop.trial import Trial


class TrialsPage(WorkingPage[Proof]):
    """Every trial of the player's instrument, the latest first.

    Parameters
    ----------
    bench
        The record that the trials are in.
    """

    keys = TRIALS
    heading = workshop_words.TRIALS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*TRIALS, *EVERYWHERE))]

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self.bench = bench
        self.known: tuple[Trial, ...] = ()
        self.at = 0
        self.stale = False

    def work_out(self, progress: Progress) -> Proof | None:
        """Read the trials again, and prove the marked one."""
        settings = self.program.settings
        known = self.bench.trials(settings.player, settings.instrument)
        self.known = tuple(reversed(known))
        if not self.known:
            return None
        return self.bench.prove(self.known[self.at], progress=progress)

    def printed(self, width: int) -> Content:
        """Return the trials, and what the marked one did."""
        if not self.known and self.share is None:
            return wrapped([self.complaint or workshop_words.NO_TRIAL_YET], width=width)
        result = (
            proof(self.found, width=width)
            if self.found is not None
            else wrapped([self.state_in_words], width=width)
        )
        listed = trials(self.known, marked=self.at, width=width)
        return Content("\n\n").join([listed, result])

    def next_in_words(self) -> str:
        """Return what leads on from here."""
        if self.share is not None or self.complaint or self.found is None:
            return ""
        if self.found.trial.undone_at is not None:
            return workshop_words.NEXT_OTHER_WORK
        proven = workshop_words.NEXT_KEEP_OR_UNDO
        return proven if self.found.notes else workshop_words.NEXT_CHECK_AFTER_WORK

    def action_move(self, lines: int) -> None:
        """Mark another trial and prove it; scroll where there is only one."""
        if len(self.known) < 2:
            self.action_scroll(lines)
            return
        self.at = (self.at + lines) % len(self.known)
        self.begin()

    def action_undo(self) -> None:
        """Keep that the marked trial was undone just now."""
        if not self.known or self.known[self.at].undone_at is not None:
            return
        try:
            self.bench.undo(self.known[self.at].number)
        except IntonationError as error:
            self.complaint = str(error)
            self.print_all()
            return
        self.program.sound_desk.follow_trials()
        self.begin()

    def action_check(self) -> None:
        """Play the instrument check again, and prove the trial anew when that is over."""
        self.stale = True
        self.program.open_check()

    def on_screen_resume(self) -> None:
        """Take in what was played while another page lay on top."""
        if self.stale and self.is_mounted:
            self.stale = False
            self.begin()
