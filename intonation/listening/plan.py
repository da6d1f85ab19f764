"""What to practise next: chosen from the thresholds, and spaced over days."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from intonation.listening.trials import Condition

GAPS_DAYS = (1, 3, 7, 16, 35)
"""Days to the next time, after each time that was kept: practice spread out lasts longer, the gap
being a tenth to a fifth of the time it should last (N. J. Cepeda et al., Psychol. Sci. 19, 2008,
1095; from memory)."""

_TOO_LATE = 2.0
_MOST_AT_ONCE = 4
_NEW_AT_ONCE = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Practised:
    """What is known of one condition.

    Parameters
    ----------
    days
        The days on which it was practised, in order.
    blur_cents
        How far apart, or how far off, things sounded alike at last: the larger, the more practice
        it needs.
    """

    days: tuple[date, ...]
    blur_cents: float


def gap_reached(days: Sequence[date]) -> int:
    """Return the place in `GAPS_DAYS` that practice has reached.

    Practising again before it is due changes nothing, coming more than twice as late as planned
    goes one place back, anything else one place on.
    """
    place, last = 0, days[0]
    for day in days[1:]:
        waited, planned = (day - last).days, GAPS_DAYS[place]
        if waited < planned:
            continue
        step = -1 if waited > _TOO_LATE * planned else 1
        place = min(max(place + step, 0), len(GAPS_DAYS) - 1)
        last = day
    return place


def due_on(days: Sequence[date]) -> date:
    """Return the day on which it is to be practised again."""
    counted = days[0]
    for number, day in enumerate(days[1:], start=1):
        if (day - counted).days >= GAPS_DAYS[gap_reached(days[:number])]:
            counted = day
    return counted + timedelta(days=GAPS_DAYS[gap_reached(days)])


def next_conditions(
    offered: Sequence[Condition], known: Mapping[Condition, Practised], *, today: date
) -> tuple[Condition, ...]:
    """Return what to mix in the next block, at most four conditions.

    Parameters
    ----------
    offered
        What a drill can measure, in the order in which to begin.
    known
        What was practised so far.
    today
        The day.

    Returns
    -------
    tuple of Condition
        What is due, highest threshold first; then new ones, at most two; then, if nothing is due
        or new, the one with the highest threshold, so that there is always something to do.
    """
    due = [each for each in offered if each in known and due_on(known[each].days) <= today]
    due.sort(key=lambda each: -_difficulty(known[each]))
    new = [each for each in offered if each not in known][:_NEW_AT_ONCE]
    chosen = (*due, *new)[:_MOST_AT_ONCE]
    return tuple(chosen) or _hardest(offered, known)


def _hardest(
    offered: Sequence[Condition], known: Mapping[Condition, Practised]
) -> tuple[Condition, ...]:
    every = sorted((each for each in offered if each in known), key=lambda e: _difficulty(known[e]))
    return tuple(every[-1:])


def _difficulty(practised: Practised) -> float:
    return practised.blur_cents
