"""Habits in words: where a note usually lies, what it goes with, and whose it is."""

from datetime import date

from intonation.assessment.bands import EXCELLENT_CENTS
from intonation.diagnosis.parts import Interval
from intonation.diagnosis.results import NoteDiagnosis
from intonation.habits.contexts import LONG_S, LOUDER_DB, ContextName
from intonation.habits.habit import FEWEST_HELD, Habits, NoteHabit, clear_contexts, is_clear
from intonation.language import say, say_many
from intonation.pitch.notes import note_name
from intonation.words.dates import day_in_short
from intonation.words.diagnosis import MODEL_ESTIMATE, chance_in_words
from intonation.words.numbers import cents_word, rounded, sharp_or_flat, times
from intonation.words.today import LONG_AWAY_DAYS

NO_HABITS = say(
    "Nothing is on record yet of this player on the instrument as it is now. Play a take or two "
    "against a drone; from the fifth time that a note is held, this page says where it usually "
    "lies."
)
NO_CHECK = say(
    "Whose it is, yours or the instrument's, an instrument check can tell. None is on record for "
    "these weeks."
)
HOW_WORKED_OUT = say(
    "Of the last twelve weeks. Each estimate is drawn towards the other notes as far as it is "
    "uncertain, so that the oddest of thirty notes is not believed too soon. In nine of ten cases "
    "the truth lies within the interval."
)

CONTEXT_NAMES: dict[ContextName, str] = {
    "from above": say("from above"),
    "from below": say("from below"),
    "after a leap": say("after a leap"),
    "with a reference": say("with a reference"),
    "in melodies": say("in melodies"),
    "louder": say("{louder_db} dB louder", louder_db=rounded(LOUDER_DB)),
    "long": say("in long notes"),
}


def _change(name: ContextName, it: str, change: str) -> str:
    match name:
        case "from above":
            return say("Coming down a step to {it}, you play it {change}", it=it, change=change)
        case "from below":
            return say("Coming up a step to {it}, you play it {change}", it=it, change=change)
        case "after a leap":
            return say("After a leap you play {it} {change}", it=it, change=change)
        case "with a reference":
            return say(
                "With a reference sounding you play {it} {change} than without",
                it=it,
                change=change,
            )
        case "in melodies":
            return say("In melodies you play {it} {change} than alone", it=it, change=change)
    return say(
        "Played {louder_db} dB louder, {it} comes out {change}",
        louder_db=rounded(LOUDER_DB),
        it=it,
        change=change,
    )


def is_said(habit: NoteHabit) -> str:
    """Return in a word or two where a note usually lies, for example ``"sharp"``."""
    usual = habit.usual
    if usual is None:
        return say("too few")
    if _is_close(usual):
        return say("in tune")
    if usual.low > 0.0:
        return say("sharp")
    return say("flat") if usual.high < 0.0 else say("open")


def from_to(found: Interval, places: int = 0) -> str:
    """Return the bounds of a 90 % interval: ``"−2 to +5"``."""
    return say("{low} to {high}", low=_signed(found.low, places), high=_signed(found.high, places))


def usual_in_words(habit: NoteHabit) -> str:
    """Return where a note usually lies."""
    name = note_name(habit.midi)
    if habit.usual is None:
        return say(
            "{name} was held {times}. From the fifth time on something can be said.",
            name=name,
            times=times(habit.count),
        )
    where = sharp_or_flat(habit.usual.mean)
    sentence = say(
        "{name} usually lies {where} (90 %: {from_to})",
        name=name,
        where=where,
        from_to=from_to(habit.usual),
    )
    if is_said(habit) == "open":
        return say("{sentence}, so which way is still open.", sentence=sentence)
    return f"{sentence}."


def spread_in_words(habit: NoteHabit) -> str:
    """Return how much single notes differ, and from how many that is known."""
    played = say(
        "held {times} in {sittings}", times=times(habit.count), sittings=_sittings(habit.sittings)
    )
    if habit.spread_cents is None:
        return f"{played[0].upper()}{played[1:]}."
    return say(
        "Single notes spread by {spread_cents}; {played}.",
        spread_cents=cents_word(habit.spread_cents),
        played=played,
    )


def trend_in_words(trend: Interval | None) -> str:
    """Return how something changes over the weeks."""
    if trend is None:
        return say("A change over the weeks needs four days or more over two weeks or more.")
    if not is_clear(trend):
        return say(
            "No clear change over the weeks ({from_to} cents in four weeks).",
            from_to=from_to(trend),
        )
    moved = say("risen") if trend.mean > 0 else say("sunk")
    return say(
        "It has {moved} by {mean} in four weeks ({from_to}).",
        moved=moved,
        mean=cents_word(trend.mean),
        from_to=from_to(trend),
    )


def _all_has_moved(trend: Interval) -> str:
    moved = say("risen") if trend.mean > 0 else say("sunk")
    return say(
        "All of it has {moved} by {mean} in four weeks ({from_to}).",
        moved=moved,
        mean=cents_word(trend.mean),
        from_to=from_to(trend),
    )


def context_in_words(name: ContextName, found: Interval, *, it: str = say("it")) -> str:
    """Return what a context does, in a sentence that begins a line."""
    if name == "long":
        moved = say("sinks") if found.mean < 0 else say("rises")
        return say(
            "In notes of {long_s} seconds or more {it} {moved} by {mean} a second ({from_to}).",
            long_s=rounded(LONG_S),
            it=it,
            moved=moved,
            mean=cents_word(found.mean, 1),
            from_to=from_to(found, 1),
        )
    cents = cents_word(found.mean)
    change = (
        say("{cents} sharper", cents=cents)
        if found.mean > 0
        else say("{cents} flatter", cents=cents)
    )
    return f"{_change(name, it, change)} ({from_to(found)})."


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
        return (say("What comes before it, its length and its loudness make no clear difference."),)
    return tuple(context_in_words(name, found) for name, found in clear.items())


def owner_in_words(note: NoteDiagnosis | None) -> str:
    """Return whose a note's deviation is, as far as a check can tell."""
    if note is None:
        return NO_CHECK
    return say(
        "The instrument check says: {chance}. {model_estimate}",
        chance=chance_in_words(note.verdict, note.probabilities),
        model_estimate=MODEL_ESTIMATE,
    )


def overall_in_words(habits: Habits) -> tuple[str, ...]:
    """Return what all notes have in common, the place first."""
    if habits.overall is None:
        return (
            say(
                "No note was held {fewest_held} times yet, so no habit shows.",
                fewest_held=FEWEST_HELD,
            ),
        )
    return (
        say(
            "Over all notes you play {close_to} (90 %: {from_to} cents).",
            close_to=_close_to(habits.overall),
            from_to=from_to(habits.overall),
        ),
        *(
            context_in_words(name, found, it=say("a note"))
            for name, found in clear_contexts(habits.contexts).items()
        ),
        *(
            [_all_has_moved(habits.trend)]
            if habits.trend is not None and is_clear(habits.trend)
            else []
        ),
    )


def away_in_words(habits: Habits, *, today: date) -> tuple[str, ...]:
    """Return that all of this is from before a long pause, if it is."""
    away = 0 if habits.last_day is None else (today - habits.last_day).days
    if away < LONG_AWAY_DAYS:
        return ()
    return (say("You last played {away} days ago; all of this is from before.", away=away),)


def span_in_words(habits: Habits) -> str:
    """Return what the habits are worked out from."""
    notes = say(
        "{count} held notes in {sittings}", count=habits.count, sittings=_sittings(habits.sittings)
    )
    if habits.first_day is None or habits.last_day is None:
        return say("{notes}, without dates", notes=notes)
    if habits.first_day == habits.last_day:
        return f"{notes}, {day_in_words(habits.last_day)}"
    return say(
        "{notes}, {first_day} to {last_day}",
        notes=notes,
        first_day=day_in_words(habits.first_day),
        last_day=day_in_words(habits.last_day),
    )


def day_in_words(day: date) -> str:
    """Return a day: ``"14 Mar 2031"``."""
    return day_in_short(day)


def _close_to(found: Interval) -> str:
    return say("close to your targets") if _is_close(found) else sharp_or_flat(found.mean)


def _is_close(found: Interval) -> bool:
    """Whether something is in tune as surely as one listens."""
    return max(abs(found.low), abs(found.high)) <= EXCELLENT_CENTS


def _sittings(count: int) -> str:
    return say_many("one sitting", "{count} sittings", count=count)


def _signed(cents: float, places: int) -> str:
    text = rounded(cents, places)
    return text if text[0] == "−" or float(text) == 0.0 else f"+{text}"
