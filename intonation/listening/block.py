"""A block: a few minutes of trials with several intervals mixed, and what they came to."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from intonation.errors import SettingsError
from intonation.language import say
from intonation.listening.drill import Drill
from intonation.listening.estimate import EarEstimate
from intonation.listening.prior import UNKNOWN_LISTENER, Prior
from intonation.listening.steps import AdaptiveSteps, StaircaseSteps, Steps
from intonation.listening.trials import Answer, Condition, Trial

SHORTEST_S, USUAL_S, LONGEST_S = 180.0, 240.0, 360.0
"""Three to six minutes: attention wanes, and short daily blocks are what training studies used
(C. Micheyl et al., Hear. Res. 219, 2006, 36: four to eight hours in all)."""

ANSWERING_S = 2.0
"""Usual time between the end of the sound and the answer, where none is told."""

Feedback = Literal["after each answer", "in summary"]
"""Feedback after each answer guides while it lasts; in summary it makes practice harder and what
is learned last longer (R. A. Schmidt et al., Hum. Mov. Sci. 1989; abstract)."""

Method = Literal["adaptive", "staircase"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockResult:
    """What a block came to.

    Parameters
    ----------
    answers
        All of them, in order.
    estimates
        What they tell about each condition.
    """

    answers: tuple[Answer, ...]
    estimates: Mapping[Condition, EarEstimate]


class Block:
    """One sitting with one drill, a state machine: a trial out, an answer in.

    Parameters
    ----------
    drill
        Makes the trials.
    conditions
        What is measured, interleaved in random order.
    rng
        Draws the order, the steps and whatever trials leave to chance.
    priors
        What is believed of each condition beforehand.
    length_s
        When no further trial is begun, from 3 to 6 minutes.
    feedback
        Whether the listener is told at once; the answer of `answered` follows it.
    method
        How the steps are chosen.

    Raises
    ------
    SettingsError
        If the length is out of range.
    """

    def __init__(
        self,
        drill: Drill,
        conditions: Sequence[Condition],
        *,
        rng: np.random.Generator,
        priors: Mapping[Condition, Prior] | None = None,
        length_s: float = USUAL_S,
        feedback: Feedback = "after each answer",
        method: Method = "adaptive",
    ) -> None:
        if not SHORTEST_S <= length_s <= LONGEST_S:
            raise SettingsError(
                say("A block of {minutes:g} minutes is out of range.", minutes=length_s / 60),
                say(
                    "Choose from {shortest:g} to {longest:g} minutes.",
                    shortest=SHORTEST_S / 60,
                    longest=LONGEST_S / 60,
                ),
            )
        self.feedback = feedback
        self._drill, self._rng, self._length_s = drill, rng, length_s
        self._steps = {
            each: _steps(drill, each, (priors or {}).get(each, UNKNOWN_LISTENER), method)
            for each in conditions
        }
        self._waiting: list[Condition] = []
        self._last: Condition | None = None
        self._answers: list[Answer] = []
        self._spent_s = 0.0
        self.trial: Trial | None = None
        self._next_trial()

    @property
    def spent_s(self) -> float:
        """How long it has gone on."""
        return self._spent_s

    @property
    def is_over(self) -> bool:
        """Whether no trial is waiting for an answer any more."""
        return self.trial is None

    def answered(self, choice: str, *, after_s: float = ANSWERING_S) -> Answer | None:
        """Take the answer to the present trial and go on to the next.

        Parameters
        ----------
        choice
            One of the trial's choices.
        after_s
            How long after the sound it came.

        Returns
        -------
        Answer or None
            What to tell the listener; None if they are told in summary only.

        Raises
        ------
        SettingsError
            If the block is over or there is no such choice.
        """
        trial = self.trial
        if trial is None or choice not in trial.choices:
            offered = ", ".join(trial.choices) if trial else ""
            what_to_do = (
                say("Choose one of {offered}.", offered=offered)
                if trial
                else say("Begin another block.")
            )
            raise SettingsError(say('"{choice}" is no answer now.', choice=choice), what_to_do)
        answer = Answer(trial=trial, choice=choice)
        self._answers.append(answer)
        self._steps[trial.condition].told(answer)
        self._spent_s += trial.duration_s + after_s
        self._next_trial()
        return answer if self.feedback == "after each answer" else None

    def stop(self) -> None:
        """End it before its time; what was answered counts."""
        self.trial = None

    def result(self) -> BlockResult:
        """Return what it has come to so far."""
        estimates = {each: steps.estimate() for each, steps in self._steps.items()}
        return BlockResult(answers=tuple(self._answers), estimates=estimates)

    def _next_trial(self) -> None:
        if self._spent_s >= self._length_s:
            self.trial = None
            return
        condition = self._next_condition()
        step_cents = self._steps[condition].next_cents(self._rng)
        self.trial = self._drill.trial(condition, step_cents, self._rng)

    def _next_condition(self) -> Condition:
        if not self._waiting:
            every = [*self._steps]
            self._waiting = [every[int(at)] for at in self._rng.permutation(len(every))]
            if self._waiting[-1] == self._last:  # else it would come twice in a row
                self._waiting.reverse()
        self._last = self._waiting.pop()
        return self._last


def _steps(drill: Drill, condition: Condition, prior: Prior, method: Method) -> Steps:
    question = drill.question(condition)
    return (StaircaseSteps if method == "staircase" else AdaptiveSteps)(question, prior)
