"""What an ear drill takes from the practice record, and gives to it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import TYPE_CHECKING

import numpy as np

from intonation.listening.history import KeptTuning, kept
from intonation.practice.ear_block import KnownEar, known_of

if TYPE_CHECKING:
    from intonation.listening.adjustment import TunedNote
    from intonation.listening.trials import Answer, Condition
    from intonation.practice.ear_choices import EarChoices
    from intonation.store.listening_answers import ListeningAnswers

OpenAnswers = Callable[[], "ListeningAnswers"]


class EarSitting:
    """What the pages for the ear share while the program is open.

    Parameters
    ----------
    record
        Where answers are kept.
    choices
        What is chosen.
    """

    def __init__(self, record: EarRecord, choices: EarChoices) -> None:
        self.record = record
        self.choices = choices
        self.rng = np.random.default_rng()


def answers_in_memory() -> ListeningAnswers:
    """Return answers that are forgotten when the program ends."""
    from intonation.store.listening_answers import ListeningAnswers
    from intonation.store.store import Store

    return ListeningAnswers(Store(None).database)


class EarRecord:
    """One player's answers.

    Parameters
    ----------
    opened
        Opens the record; called once, when it is first needed.

    Notes
    -----
    Every method may raise a `StoreError`.
    """

    def __init__(self, opened: OpenAnswers) -> None:
        self._open = opened
        self._answers: ListeningAnswers | None = None

    @property
    def today(self) -> date:
        """The day on which practice is due or not."""
        return _now().date()

    def known(self, player: str) -> KnownEar:
        """Return what earlier answers have told; this may take a moment."""
        answers = self._opened()
        return known_of(answers.answers(player), answers.tuned(player))

    def keep(self, player: str, answer: Answer) -> None:
        """Keep an answer; when this returns it is on the disk."""
        self._opened().add(player, kept(answer, answered_at=_now()))

    def keep_tuned(self, player: str, condition: Condition, note: TunedNote) -> None:
        """Keep a note that was tuned."""
        tuning = KeptTuning(condition=condition, tuned_at=_now(), note=note)
        self._opened().add_tuned(player, tuning)

    def _opened(self) -> ListeningAnswers:
        if self._answers is None:
            self._answers = self._open()
        return self._answers


def _now() -> datetime:
    return datetime.now().astimezone()
