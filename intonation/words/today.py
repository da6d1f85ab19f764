"""Today's practice in words: what each step is, and why it is in the plan."""

from intonation.exercise.pieces import Exercise
from intonation.habits.ear_needs import EarNeed
from intonation.habits.needs import NoteNeed
from intonation.habits.practice_plan import Choices, Step
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, sharp_or_flat

NOTHING_KNOWN = (
    "Too little is on record yet, so the plan begins with the notes that are easiest to hold. From "
    "tomorrow on it is made of what you played."
)

LONG_AWAY_DAYS = 14
"""After so long a pause the plan says so (design judgement)."""

_AGAIN = "Again, after something else: that lasts longer."
_LONG_TONES = "Wakes breath and ears, warms the instrument."
_INTERVALS = "Still intervals; another kind each day."
_MELODY = "What you have listened for, in music."


def before_the_plan(choices: Choices) -> tuple[str, ...]:
    """Return what is to be said before a plan, if anything."""
    away = choices.days_away
    if choices.from_nothing:
        return (NOTHING_KNOWN,)
    if away is None or away < LONG_AWAY_DAYS:
        return ()
    return (
        f"You last played {away} days ago: begin gently, perhaps with the shorter plan. What is "
        "said of your notes is from before.",
    )


def step_in_words(step: Step) -> str:
    """Return what is done in a step."""
    match step.choice:
        case NoteNeed(midi=midi):
            return f"Hold {note_name(midi)} against a drone"
        case EarNeed(drill=drill):
            return f"Ear drill: {drill}"
        case Exercise(title=title):
            return title


def why_in_words(step: Step) -> str:
    """Return why a step is in the plan."""
    if step.again:
        return _AGAIN
    match step.choice:
        case NoteNeed():
            return f"{_need_in_words(step.choice)}{_since_in_words(step.choice)}"
        case EarNeed():
            return _ear_in_words(step.choice)
    if step.kind == "melody":
        return _melody_in_words(step)
    return _LONG_TONES if step.kind == "long tones" else _INTERVALS


def minutes_in_words(minutes: float) -> str:
    """Return a length: ``"1½ min"``."""
    whole, rest = divmod(round(2.0 * minutes), 2)
    return f"{whole or ''}{'½' if rest else ''} min"


def note_aim_in_words(step: Step) -> str:
    """Return what to do in a take that is a step of the plan."""
    name = note_name(step.choice.midi) if isinstance(step.choice, NoteNeed) else ""
    return (
        f"Hold {name} again and again for about {minutes_in_words(step.minutes)}. Guess before "
        "each card: sharp or flat? Space ends the take and goes on."
    )


def _need_in_words(need: NoteNeed) -> str:
    match need.reason:
        case "off" if need.usual is not None:
            return f"It usually lies {sharp_or_flat(need.usual.mean)}."
        case "unsteady" if need.spread_cents is not None:
            return f"It comes out differently each time, by {cents_word(need.spread_cents)}."
        case "close":
            return "It is in tune; of such notes you have played it least."
    return "Too little is known of it yet: hold it a few times."


def _since_in_words(need: NoteNeed) -> str:
    if need.days_since is None or need.reason == "seldom":
        return ""
    if need.days_since < 2:
        return f" Practised {'today' if need.days_since == 0 else 'yesterday'}."
    return f" Last practised {need.days_since} days ago."


def _ear_in_words(need: EarNeed) -> str:
    if need.reason == "new":
        return "A drill that you have not done yet."
    if need.reason == "due":
        return "It is due again: what comes back after 1, 3, 7 and 16 days stays."
    return "Of all drills, the one longest ago."


def _melody_in_words(step: Step) -> str:
    if not step.with_notes:
        return _MELODY
    names = " and ".join(map(note_name, step.with_notes))
    return f"It has your {names} in it."
