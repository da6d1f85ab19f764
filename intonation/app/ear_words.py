"""Labels and explanations of the pages for the ear."""

from intonation.language import say, say_many
from intonation.words.cautions import HEADPHONES

EAR, DRILL, TUNING, RESULT = say("Ear"), say("Listen"), say("Tune by ear"), say("Your ear")

DRILL_EXPLAINED: dict[str, str] = {
    "which way": say("A tone joins a drone. Is it sharp or flat of where it should be?"),
    "which is in tune": say("Versions of an interval or chord. One stands still, the others beat."),
    "tune it": say("Turn the upper note with the keys until it stands still. What is left counts."),
    "find the culprit": say("A chord with one note off. Which one, and which way?"),
    "which note": say("A slow tune with backing, one note of it off. Which one?"),
    "difference tone": say(
        "The root, then two high notes. Together they hum low: does the hum fit as the root? It "
        "is soft; headphones do not take it away, since it arises in the ear."
    ),
    "remember": say("A tone, silence, a tone. Is it the same?"),
}
WHAT_IS_DUE = say("what is due")
INTERVAL_EXPLAINED = say(
    "What is due is chosen from your results and spaced over days: 1, 3, 7, 16. Or choose one "
    "interval, chord or tune."
)
REGISTER_EXPLAINED = say(
    "Where on your instrument the notes lie. The ear differs between registers."
)
VERSIONS_EXPLAINED = say("How many versions are compared. Three are harder to guess.")
MINUTES_EXPLAINED = say("Three to six minutes. Short and often is better than long and seldom.")
FEEDBACK_EXPLAINED = {
    "after each answer": say(
        "You are told after each answer. Good to begin with; it guides only while it lasts."
    ),
    "in summary": say("You are told at the end only: harder now, and what you learn lasts longer."),
}
WHAT_HAPPENS = say(
    "Space starts. No instrument and no microphone are needed; close your eyes while it "
    "sounds. Keep it soft. {headphones}",
    headphones=HEADPHONES,
)
NO_RESULTS = say("No results of this drill yet.")
PREPARING = say("One moment.")
LISTEN = say("Listen.")
NEXT_WITH_SPACE = say("Space: the next one.")
TUNE_NOW = say("← → move it a little, ↑ ↓ a lot. Space when it stands still.")
NOTHING_ANSWERED = say("Nothing was answered.")

ABOUT: dict[str, str] = {
    EAR: say(
        "A player cannot play finer than they hear. Choose what to listen for; the drill adapts "
        "to you and measures the smallest deviation that you hear."
    ),
    DRILL: say(
        "Answer with the number beside the answer, as soon as you know. Guess when you do not: "
        "guesses are part of the measurement."
    ),
    TUNING: say(
        "Turn the note until the beats stand still. The page does not tell how far off it is."
    ),
    RESULT: say(
        "The smallest deviation that you hear, with its range, and what to listen to next."
    ),
}


def minutes(count: int) -> str:
    """Return a length as it is printed."""
    return say("{count} minutes", count=count)


def progress(spent_s: float, length_s: float, answers: int) -> str:
    """Return how far a block has come."""
    left = max(0.0, length_s - spent_s) / 60.0
    answered = say_many("1 answer", "{count} answers", count=answers)
    return (
        say("{answered} · {left:.0f} min left", answered=answered, left=left)
        if left >= 0.5
        else say("{answered} · nearly over", answered=answered)
    )


def due_next(names: str) -> str:
    """Return what the next block practises."""
    return say("Next: {names}.", names=names)


def due_again(when: str) -> str:
    """Return when what was practised is due again."""
    return say("Due again: {when}.", when=when)
