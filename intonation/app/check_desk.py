"""What the pages of an instrument check ask of the program: sound, record, and the next page."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from intonation.app.check_choices import CheckChoices, last_form, practice_of
from intonation.app.screens.check import CheckPage
from intonation.app.screens.check_run import CheckRunPage
from intonation.app.screens.working import WorkingPage
from intonation.engine.check_bench import CheckBench
from intonation.engine.messages import AskTone, EndTake, StartCheck, ToneHeard

if TYPE_CHECKING:
    from intonation.app.application import IntonationApp
    from intonation.diagnosis.check import AskedTone, Form
    from intonation.engine.guided_check import GuidedCheck
    from intonation.practice.checking import CheckSettings
    from intonation.practice.settings import PracticeSettings
    from intonation.store.checks import CheckRecord

_SEEDS = 2**31


class CheckDesk:
    """One check at a time.

    Parameters
    ----------
    program
        The program on whose screen it is.
    bench
        What checks are kept in.
    """

    def __init__(self, program: IntonationApp, bench: CheckBench) -> None:
        self._program = program
        self.bench = bench
        self._guided: GuidedCheck | None = None

    def open(self) -> None:
        """Open the choices before a check."""
        practice = self._program.settings
        choices = CheckChoices(practice=practice, form=self._form(practice))
        self._program.push_screen(CheckPage(self, choices))

    def _form(self, practice: PracticeSettings) -> Form:
        """Return the form of the pair's last check, for only the same notes can be compared."""
        known: list[CheckRecord] = []
        self._program.attempt("record", lambda: known.extend(self.bench.known()))
        usual: Form = "standard" if self._program.sound.two_faults else "short"
        return last_form(known, practice) or usual

    def remember_room(self, temperature_c: float | None) -> None:
        """Keep the room's temperature, as the practice page does."""
        if temperature_c != self._program.settings.temperature_c:
            settings = replace(self._program.settings, temperature_c=temperature_c)
            self._program.choose(settings)

    def seed(self) -> int:
        """Return a seed for an order of notes that nobody foresees."""
        return random.randrange(_SEEDS)

    def start(self, guided: GuidedCheck) -> None:
        """Open the page of a check."""
        self._program.push_screen(CheckRunPage(self, guided))

    def listen(self, guided: GuidedCheck) -> None:
        """Let the engine listen to a check."""
        self._guided = guided
        practice = practice_of(guided.checking.settings)
        self._program.sound_desk.command(StartCheck(practice))

    def ask(self, asked: AskedTone | None) -> None:
        """Take the next tone as an answer to this; None: take none."""
        self._program.sound_desk.link.send(AskTone(asked))

    def keep(self, heard: ToneHeard) -> None:
        """Keep a tone before it is shown. Runs on the engine's reading thread.

        Raises
        ------
        StoreError
            If the record cannot be written.
        """
        if self._guided is not None:
            self._guided.hear(heard)

    def skip(self, guided: GuidedCheck) -> None:
        """Leave the present note out."""
        self._program.attempt("record", guided.skip)

    def leave(self, guided: GuidedCheck) -> None:
        """Listen no longer; what the record has refused is tried once more."""
        self._guided = None
        self._program.sound_desk.link.send(EndTake())
        self._program.attempt("record", guided.write_rest)
        self.bench.left(guided)

    def settled(self, guided: GuidedCheck) -> None:
        """Show what a check that is over has shown, in place of its page."""
        self._program.pop_screen()
        settings, below = guided.checking.settings, self._program.screen
        if settings.form == "off and on":
            self.compare(settings, guided.sides)
        elif isinstance(below, WorkingPage):
            below.begin()
        else:
            self.verdict(settings)

    def verdict(self, settings: CheckSettings) -> None:
        """Open what the checks on file say about a pair."""
        from intonation.app.screens.verdict import VerdictPage

        self._program.push_screen(VerdictPage(self, settings))

    def compare(self, settings: CheckSettings, sides: Mapping[str, str] | None = None) -> None:
        """Open the comparison of a pair's sittings, some of them on a side already."""
        from intonation.app.screens.comparison import ComparisonPage

        self._program.push_screen(ComparisonPage(self.bench, settings, sides or {}))
