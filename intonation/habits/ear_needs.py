"""Which ear drill is next: one that is due, else a new one, else the one longest ago."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from intonation.listening.plan import Practised, due_on
from intonation.listening.trials import Condition

EarReason = Literal["due", "new", "longest ago"]


@dataclass(frozen=True, slots=True)
class EarNeed:
    """An ear drill, and why it is next."""

    drill: str
    reason: EarReason


def ear_needs_of(
    drills: Sequence[str], practised: Mapping[Condition, Practised], *, today: date
) -> tuple[EarNeed, ...]:
    """Return every drill, the one to do first at the front.

    Parameters
    ----------
    drills
        Names of the drills, in the order in which to begin with them.
    practised
        What earlier answers have told of each condition.
    today
        The day.
    """
    known = {drill: [p for c, p in practised.items() if c.drill == drill] for drill in drills}
    done = sorted(filter(known.__getitem__, drills), key=lambda drill: _last(known[drill]))
    due = [drill for drill in done if any(due_on(one.days) <= today for one in known[drill])]
    new = [drill for drill in drills if not known[drill]]
    reasons: dict[str, EarReason] = {
        **dict.fromkeys(due, "due"),
        **dict.fromkeys(new, "new"),
        **dict.fromkeys((drill for drill in done if drill not in due), "longest ago"),
    }
    return tuple(EarNeed(drill, reason) for drill, reason in reasons.items())


def _last(known: Sequence[Practised]) -> date:
    return max(one.days[-1] for one in known)
