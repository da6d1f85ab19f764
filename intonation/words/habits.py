"""Habits in words: where a note usually lies, what it goes with, and whose it is."""

from datetime import date

from intonation.assessment.bands import EXCELLENT_CENTS
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis
from intonation.habits.contexts import LONG_S, LOUDER_DB, ContextName
from intonation.habits.habit import FEWEST_HELD, Habits, NoteHabit, clear_contexts, is_clear
from intonation.pitch.notes import note_name
from intonation.words.diagnosis import MODEL_ESTIMATE, chance_in_words
from intonation.words.numbers import cents_word, rounded, sharp_or_flat, times

NO_HABITS = (
    "Nothing is on record yet for this player and instrument. Play a take or two against a drone; "
    "from the fifth time that a note is held, this page says where it usually lies."
)
NO_CHECK = (
    "Whose it is, yours or the instrument's, an instrument check can tell. None is on record for "
    "these weeks."
)
HOW_WORKED_OUT = (
    "Of the last twelve weeks. Each estimate is drawn towards the other notes as far as it is "
    "uncertain, so that the oddest of thirty notes is not believed too soon. In nine of ten cases "
    "the truth lies within the interval."
)

CONTEXT_NAMES: dict[ContextName, str] = {
    "from above": "from above",
    "from below": "from below",
    "after a leap": "after a leap",
    "with a reference": "with a reference",
    "in melodies": "in melodies",
    "louder": f"{rounded(LOUDER_DB)} dB louder",
    "long": "in long notes",
}

_CHANGES: dict[ContextName, str] = {
    "from above": "Coming down a step to {it}, you play {it} {change}.",
    "from below": "Coming up a step to {it}, you play {it} {change}.",
    "after a leap": "After a leap you play {it} {change}.",
    "with a reference": "With a reference sounding you play {it} {change} than without.",
    "in melodies": "In melodies you play {it} {change} than alone.",
    "louder": f"Played {rounded(LOUDER_DB)} dB louder, {{it}} comes out {{change}}.",
}


def is_said(habit: NoteHabit) -> str:
    """Return in a word or two where a note usually lies, for example ``"sharp"``."""
    usual = habit.usual
    if usual is None:
        return "too few"
    if _is_close(usual):
        return "in tune"
    if usual.low > 0.0:
        return "sharp"
    return "flat" if usual.high < 0.0 else "open"


def from_to(found: Interval, places: int = 0) -> str:
    """Return the bounds of a 90 % interval: ``"−2 to +5"``."""
    return f"{_signed(found.low, places)} to {_signed(found.high, places)}"


def usual_in_words(habit: NoteHabit) -> str:
    """Return where a note usually lies."""
    name = note_name(habit.midi)
    if habit.usual is None:
        return (
            f"{name} was held {times(habit.count)}. From the fifth time on something can be said."
        )
    where = sharp_or_flat(habit.usual.mean)
    sentence = f"{name} usually lies {where} (90 %: {from_to(habit.usual)})"
    if is_said(habit) == "open":
        return f"{sentence}, so which way is still open."
    return f"{sentence}."


def spread_in_words(habit: NoteHabit) -> str:
    """Return how much single notes differ, and from how many that is known."""
    played = f"held {times(habit.count)} in {_sittings(habit.sittings)}"
    if habit.spread_cents is None:
        return f"{played[0].upper()}{played[1:]}."
    return f"Single notes spread by {cents_word(habit.spread_cents)}; {played}."


def trend_in_words(trend: Interval | None) -> str:
    """Return how something changes over the weeks."""
    if trend is None:
        return "A change over the weeks needs four days or more over two weeks or more."
    if not is_clear(trend):
        return f"No clear change over the weeks ({from_to(trend)} cents in four weeks)."
    moved = "risen" if trend.mean > 0 else "sunk"
    return f"It has {moved} by {cents_word(trend.mean)} in four weeks ({from_to(trend)})."


def context_in_words(name: ContextName, found: Interval, *, it: str = "it") -> str:
    """Return what a context does, in a sentence that begins a line."""
    if name == "long":
        moved = "sinks" if found.mean < 0 else "rises"
        return (
            f"In notes of {rounded(LONG_S)} seconds or more {it} {moved} by "
            f"{cents_word(found.mean, 1)} a second ({from_to(found, 1)})."
        )
    change = f"{cents_word(found.mean)} {'sharper' if found.mean > 0 else 'flatter'}"
    return f"{_CHANGES[name].format(it=it, change=change)[:-1]} ({from_to(found)})."


def goes_with(habit: NoteHabit, habits: Habits) -> str:
    """Return what a note most clearly goes with beyond all the others: ``"in melodies +6"``."""
    common = clear_contexts(habits.contexts)
    for name, found in clear_contexts(habit.contexts).items():
        if name not in common:
            places, unit = (1, "/s") if name == "long" else (0, "")
            return f"{CONTEXT_NAMES[name]} {_signed(found.mean, places)}{unit}"
    return ""


def contexts_in_words(habit: NoteHabit) -> tuple[str, ...]:
    """Return what a note clearly goes with, the largest first; one sentence if nothing."""
    clear = clear_contexts(habit.contexts)
    if not clear:
        return ("What comes before it, its length and its loudness make no clear difference.",)
    return tuple(context_in_words(name, found) for name, found in clear.items())


def owner_in_words(note: NoteDiagnosis | None) -> str:
    """Return whose a note's deviation is, as far as a check can tell."""
    if note is None:
        return NO_CHECK
    return (
        f"The instrument check says: {chance_in_words(note.verdict, note.probabilities)}. "
        f"{MODEL_ESTIMATE}"
    )


def overall_in_words(habits: Habits) -> tuple[str, ...]:
    """Return what all notes have in common, the place first."""
    if habits.overall is None:
        return (f"No note was held {FEWEST_HELD} times yet, so no habit shows.",)
    return (
        f"Over all notes you play {_close_to(habits.overall)} "
        f"(90 %: {from_to(habits.overall)} cents).",
        *(
            context_in_words(name, found, it="a note")
            for name, found in clear_contexts(habits.contexts).items()
        ),
        *(
            [trend_in_words(habits.trend).replace("It has", "All of it has")]
            if habits.trend is not None and is_clear(habits.trend)
            else []
        ),
    )


def span_in_words(habits: Habits) -> str:
    """Return what the habits are worked out from."""
    notes = f"{habits.count} held notes in {_sittings(habits.sittings)}"
    if habits.first_day is None or habits.last_day is None:
        return f"{notes}, without dates"
    if habits.first_day == habits.last_day:
        return f"{notes}, {day_in_words(habits.last_day)}"
    return f"{notes}, {day_in_words(habits.first_day)} to {day_in_words(habits.last_day)}"


def day_in_words(day: date) -> str:
    """Return a day: ``"14 Mar 2031"``."""
    return f"{day.day} {day:%b %Y}"


def _close_to(found: Interval) -> str:
    return "close to your targets" if _is_close(found) else sharp_or_flat(found.mean)


def _is_close(found: Interval) -> bool:
    """Whether something is in tune as surely as one listens."""
    return max(abs(found.low), abs(found.high)) <= EXCELLENT_CENTS


def _sittings(count: int) -> str:
    return "one sitting" if count == 1 else f"{count} sittings"


def _signed(cents: float, places: int) -> str:
    text = rounded(cents, places)
    return text if text[0] == "−" or float(text) == 0.0 else f"+{text}"
