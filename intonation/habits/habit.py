"""A player's habits on an instrument: of every note, and of all of them together."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from intonation.assessment.summary import NoteSummary
from intonation.diagnosis.parts import Interval
from intonation.habits.contexts import ContextName

FEWEST_HELD = 5
"""Of a note that was held less often nothing is said (design judgement)."""

SAID_FROM_CENTS = 3.0
"""A context that does less than this is not worth a sentence (design judgement: trained listeners
notice about 3 to 6 cents on single tones; C. C. Wier, W. Jesteadt & D. M. Green, JASA 61 (1977)
178; from memory)."""

SAG_SAID_FROM_CENTS_PER_S = 1.0
"""Over a note of three seconds that is the same."""


@dataclass(frozen=True, slots=True)
class Week:
    """One week of a note: its Monday, how often the note was held, and where it lay in cents."""

    monday: date
    count: int
    cents: Interval


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualNote:
    """Where a note usually lies, also one that was held too seldom to speak of a habit.

    Parameters
    ----------
    midi
        Sounding note.
    usual
        In cents from its target, with its 90 % interval.
    spread_cents
        Standard deviation of single notes; 0 for one note.
    count
        How often it was held.
    """

    midi: int
    usual: Interval
    spread_cents: float
    count: int

    @property
    def summary(self) -> NoteSummary:
        """The same without the interval."""
        return NoteSummary(self.midi, self.usual.mean, self.spread_cents, self.count)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteHabit:
    """One note.

    Parameters
    ----------
    midi
        Sounding note.
    count, sittings
        How often it was held, and in how many sittings.
    usual
        Where it usually lies, in cents from its target; None if it was held too seldom.
    spread_cents
        Robust standard deviation of single notes; None if it was held too seldom.
    trend
        Change in cents over four weeks; None if the weeks are too few.
    contexts
        What else its pitch goes with; only those of which enough is known.
    weeks
        Week by week, the oldest first.
    """

    midi: int
    count: int
    sittings: int
    usual: Interval | None = None
    spread_cents: float | None = None
    trend: Interval | None = None
    contexts: Mapping[ContextName, Interval]
    weeks: tuple[Week, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """All notes of one player on one instrument.

    Parameters
    ----------
    notes
        Lowest first.
    count, sittings
        Held notes that count, and sittings.
    first_day, last_day
        What the notes span; None if their days are not known.
    overall
        Where all notes lie together; None if none was held often enough.
    trend, contexts
        As on a note, for what all notes have in common.
    """

    notes: tuple[NoteHabit, ...] = ()
    count: int = 0
    sittings: int = 0
    first_day: date | None = None
    last_day: date | None = None
    overall: Interval | None = None
    trend: Interval | None = None
    contexts: Mapping[ContextName, Interval]

    @property
    def spoken(self) -> tuple[NoteHabit, ...]:
        """The notes that were held often enough to say where they lie."""
        return tuple(note for note in self.notes if note.usual is not None)

    def of(self, midi: int) -> NoteHabit | None:
        """Return the habit of a note, or None if it was never held."""
        return next((note for note in self.notes if note.midi == midi), None)


def is_clear(found: Interval, *, least: float = SAID_FROM_CENTS) -> bool:
    """Whether an effect is worth a sentence: beyond zero for sure, and large enough to hear."""
    return (found.low > 0.0 or found.high < 0.0) and abs(found.mean) >= least


def clear_contexts(contexts: Mapping[ContextName, Interval]) -> dict[ContextName, Interval]:
    """Return the contexts that are worth a sentence, the largest first."""
    least = {
        name: SAG_SAID_FROM_CENTS_PER_S if name == "long" else SAID_FROM_CENTS for name in contexts
    }
    clear = {name: one for name, one in contexts.items() if is_clear(one, least=least[name])}
    return dict(sorted(clear.items(), key=lambda each: -abs(each[1].mean) / least[each[0]]))
