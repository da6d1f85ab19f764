"""Today's practice in words: what each step is, and why it is in the plan."""

from intonation.exercise.pieces import Exercise
from intonation.habits.ear_needs import EarNeed
from intonation.habits.needs import NoteNeed
from intonation.habits.practice_plan import Choices, Step
from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, sharp_or_flat

NOTHING_KNOWN = say(
    "Too little is on record yet, so the plan begins with the notes that are easiest to hold. From "
    "tomorrow on it is made of what you played."
)

LONG_AWAY_DAYS = 14
"""After so long a pause the plan says so (design judgement)."""

_AGAIN = say("Again, after something else: that lasts longer.")
_LONG_TONES = say("Wakes breath and ears, warms the instrument.")
_INTERVALS = say("Still intervals; another kind each day.")
_MELODY = say("What you have listened for, in music.")


def before_the_plan(choices: Choices) -> tuple[str, ...]:
    """Return what is to be said before a plan, if anything."""
    away = choices.days_away
    if choices.from_nothing:
        return (NOTHING_KNOWN,)
    if away is None or away < LONG_AWAY_DAYS:
        return ()
    return (
        say(
            "You last played {away} days ago: begin gently, perhaps with the shorter plan. "
            "What is said of your notes is from before.",
            away=away,
        ),
    )


def step_in_words(step: Step) -> str:
    """Return what is done in a step."""
    match step.choice:
        case NoteNeed(midi=midi):
            return say("Hold {note} against a drone", note=note_name(midi))
        case EarNeed(drill=drill):
            return say("Ear drill: {drill}", drill=name_in_words(drill))
        case Exercise(title=title):
            return name_in_words(title)


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
    return say("{whole}½ min", whole=whole or "") if rest else say("{whole} min", whole=whole or "")


def note_aim_in_words(step: Step) -> str:
    """Return what to do in a take that is a step of the plan."""
    name = note_name(step.choice.midi) if isinstance(step.choice, NoteNeed) else ""
    return say(
        "Hold {name} again and again for about {minutes}. Guess before each card: sharp "
        "or flat? Space ends the take and goes on.",
        name=name,
        minutes=minutes_in_words(step.minutes),
    )


def _need_in_words(need: NoteNeed) -> str:
    match need.reason:
        case "off" if need.usual is not None:
            return say("It usually lies {mean}.", mean=sharp_or_flat(need.usual.mean))
        case "unsteady" if need.spread_cents is not None:
            return say(
                "It comes out differently each time, by {spread_cents}.",
                spread_cents=cents_word(need.spread_cents),
            )
        case "close":
            return say("It is in tune; of such notes you have played it least.")
    return say("Too little is known of it yet: hold it a few times.")


def _since_in_words(need: NoteNeed) -> str:
    if need.days_since is None or need.reason == "seldom":
        return ""
    if need.days_since < 2:
        return say(" Practised today.") if need.days_since == 0 else say(" Practised yesterday.")
    return say(" Last practised {days_since} days ago.", days_since=need.days_since)


def _ear_in_words(need: EarNeed) -> str:
    if need.reason == "new":
        return say("A drill that you have not done yet.")
    if need.reason == "due":
        return say("It is due again: what comes back after 1, 3, 7 and 16 days stays.")
    return say("Of all drills, the one longest ago.")


def _melody_in_words(step: Step) -> str:
    if not step.with_notes:
        return _MELODY
    names = say(" and ").join(map(note_name, step.with_notes))
    return say("It has your {names} in it.", names=names)
