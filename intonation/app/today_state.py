"""Today's plan while the program is open: its steps, which of them are done, which is next."""

from dataclasses import dataclass, replace

from intonation.app.choices import neighbour
from intonation.habits.practice_plan import LENGTHS, Choices, Step, another, plan_of, without


@dataclass(frozen=True, slots=True, kw_only=True)
class TodayState:
    """The plan.

    Parameters
    ----------
    choices
        What it was made of.
    minutes
        Its length.
    steps
        What is to be done.
    done
        For each step whether it was done.
    at
        The marked step.
    under_way
        Whether the marked step was started.
    """

    choices: Choices
    minutes: int
    steps: tuple[Step, ...]
    done: tuple[bool, ...]
    at: int = 0
    under_way: bool = False

    @classmethod
    def of(cls, choices: Choices, minutes: int) -> "TodayState":
        """Return a plan of which nothing is done."""
        steps = plan_of(choices, minutes=minutes)
        return cls(choices=choices, minutes=minutes, steps=steps, done=(False,) * len(steps))

    @property
    def step(self) -> Step | None:
        """The marked step; None where no step is left."""
        return self.steps[self.at] if self.steps else None

    @property
    def is_over(self) -> bool:
        """Whether everything is done."""
        return all(self.done)

    def moved(self, steps: int) -> "TodayState":
        """Return the plan with another step marked, going round."""
        if not self.steps:
            return self
        return replace(self, at=(self.at + steps) % len(self.steps), under_way=False)

    def of_other_length(self, change: int) -> "TodayState":
        """Return a longer or shorter plan; what was done of it stays done."""
        minutes = neighbour(LENGTHS, self.minutes, change)
        finished = {
            (step.kind, id(step.choice), step.again)
            for step, done in zip(self.steps, self.done, strict=True)
            if done
        }
        other = TodayState.of(self.choices, minutes)
        done = tuple((s.kind, id(s.choice), s.again) in finished for s in other.steps)
        return replace(other, done=done)._with_next_marked()

    def with_another(self) -> "TodayState":
        """Return the plan with something else in place of the marked step."""
        if not self.steps:
            return self
        return replace(self, steps=another(self.steps, self.at, self.choices), under_way=False)

    def without_step(self) -> "TodayState":
        """Return the plan without the marked step."""
        if not self.steps:
            return self
        done = (*self.done[: self.at], *self.done[self.at + 1 :])
        steps = without(self.steps, self.at)
        at = min(self.at, max(0, len(steps) - 1))
        return replace(self, steps=steps, done=done, at=at, under_way=False)

    def started(self) -> "TodayState":
        """Return the plan with the marked step under way."""
        return replace(self, under_way=True)

    def finished(self) -> "TodayState":
        """Return the plan with the step that was under way done, and the next one marked."""
        if not self.under_way:
            return self
        done = (*self.done[: self.at], True, *self.done[self.at + 1 :])
        return replace(self, done=done, under_way=False)._with_next_marked()

    def _with_next_marked(self) -> "TodayState":
        open_steps = [place for place, done in enumerate(self.done) if not done]
        following = [place for place in open_steps if place >= self.at] or open_steps
        return replace(self, at=following[0]) if following else self
