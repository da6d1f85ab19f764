"""A listener's answers over weeks: what each day told, and what it means for the next one."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from intonation.listening.adjustment import AdjustmentResult, TunedNote, adjustment_result
from intonation.listening.estimate import EarEstimate
from intonation.listening.plan import Practised
from intonation.listening.prior import Prior, prior_from
from intonation.listening.questions import Question, right_or_wrong, sharp_or_flat
from intonation.listening.threshold import Belief, belief_after, belief_before, estimate
from intonation.listening.trials import Answer, Condition

_DIRECTIONS = {"flat", "sharp"}


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptAnswer:
    """An answer as it is remembered.

    Parameters
    ----------
    condition
        What it was about.
    answered_at
        When, in the listener's own time zone.
    step_cents, deviation_cents
        The difficulty, and how far the mistuned tone truly was off.
    choices
        How many there were.
    choice, right
        The answer, and the right one.
    """

    condition: Condition
    answered_at: datetime
    step_cents: float
    deviation_cents: float
    choices: int
    choice: str
    right: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptTuning:
    """A note that was tuned, as it is remembered."""

    condition: Condition
    tuned_at: datetime
    note: TunedNote


@dataclass(frozen=True, slots=True, kw_only=True)
class DayResult:
    """What one day told about one condition, together with the days before."""

    condition: Condition
    day: date
    estimate: EarEstimate


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTuning:
    """How notes of one condition were tuned on one day.

    Parameters
    ----------
    condition, day
        What was tuned, and when.
    notes
        Every setting.
    """

    condition: Condition
    day: date
    notes: tuple[TunedNote, ...]

    @property
    def result(self) -> AdjustmentResult | None:
        """What they tell; None for fewer than three."""
        return adjustment_result(self.notes)

    @property
    def rms_cents(self) -> float:
        """Root mean square distance from in tune."""
        return math.sqrt(sum(note.final_cents**2 for note in self.notes) / len(self.notes))


def kept(answer: Answer, *, answered_at: datetime) -> KeptAnswer:
    """Return an answer as it is remembered."""
    trial = answer.trial
    return KeptAnswer(
        condition=trial.condition,
        answered_at=answered_at,
        step_cents=trial.step_cents,
        deviation_cents=trial.deviation_cents,
        choices=len(trial.choices),
        choice=answer.choice,
        right=trial.right,
    )


def day_results(answers: Sequence[KeptAnswer]) -> tuple[DayResult, ...]:
    """Return what every day told about every condition, the oldest day first.

    Each day begins with what the days before have told, widened, since an ear changes; the first
    day of a condition begins with what other conditions of the same drill have told.
    """
    by_day: dict[date, dict[Condition, list[KeptAnswer]]] = {}
    for answer in sorted(answers, key=lambda each: each.answered_at):
        that_day = by_day.setdefault(answer.answered_at.date(), {})
        that_day.setdefault(answer.condition, []).append(answer)
    latest: dict[Condition, EarEstimate] = {}
    results = []
    for day, conditions in by_day.items():
        for condition, given in conditions.items():
            latest[condition] = estimate(_belief(given, prior_for(condition, latest)))
            results.append(DayResult(condition=condition, day=day, estimate=latest[condition]))
    return tuple(results)


def prior_for(condition: Condition, latest: Mapping[Condition, EarEstimate]) -> Prior:
    """Return the prior of a condition from the latest result of every condition."""
    others = [
        result
        for other, result in latest.items()
        if other.drill == condition.drill and other != condition
    ]
    return prior_from(others, before=latest.get(condition))


def latest_estimates(results: Sequence[DayResult]) -> dict[Condition, EarEstimate]:
    """Return the latest result of every condition."""
    return {result.condition: result.estimate for result in results}


def day_tunings(tuned: Sequence[KeptTuning]) -> tuple[DayTuning, ...]:
    """Return how notes were tuned on every day, the oldest day first."""
    by_day: dict[tuple[date, Condition], list[TunedNote]] = {}
    for tuning in sorted(tuned, key=lambda each: each.tuned_at):
        by_day.setdefault((tuning.tuned_at.date(), tuning.condition), []).append(tuning.note)
    return tuple(
        DayTuning(condition=condition, day=day, notes=tuple(notes))
        for (day, condition), notes in by_day.items()
    )


def practised(
    results: Sequence[DayResult], tunings: Sequence[DayTuning] = ()
) -> dict[Condition, Practised]:
    """Return, for the plan, the days and the latest result of every condition."""
    blurs = ((each.condition, each.day, each.estimate.blur_cents.value) for each in results)
    tuned = ((each.condition, each.day, each.rms_cents) for each in tunings)
    return _practised([*blurs, *tuned])


def _practised(days: Iterable[tuple[Condition, date, float]]) -> dict[Condition, Practised]:
    known: dict[Condition, Practised] = {}
    for condition, day, blur_cents in days:
        before = known[condition].days if condition in known else ()
        known[condition] = Practised(days=(*before, day), blur_cents=blur_cents)
    return known


def _belief(answers: Sequence[KeptAnswer], prior: Prior) -> Belief:
    belief = belief_before(_question(answers[0]), prior)
    for answer in answers:
        # a day may mix questions with two and three versions of the same interval
        belief = replace(belief, question=_question(answer))
        belief = belief_after(belief, deviation_cents=answer.step_cents, first=_first(answer))
    return belief


def _question(answer: KeptAnswer) -> Question:
    return sharp_or_flat() if _is_direction(answer) else right_or_wrong(answer.choices)


def _first(answer: KeptAnswer) -> bool:
    return answer.choice == "sharp" if _is_direction(answer) else answer.choice == answer.right


def _is_direction(answer: KeptAnswer) -> bool:
    return answer.choices == 2 and answer.right in _DIRECTIONS
