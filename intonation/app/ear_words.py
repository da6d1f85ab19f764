"""Labels and explanations of the pages for the ear."""

from intonation.words.cautions import HEADPHONES

EAR, DRILL, TUNING, RESULT = "Ear", "Listen", "Tune by ear", "Your ear"

DRILL_EXPLAINED: dict[str, str] = {
    "which way": "A tone joins a drone. Is it sharp or flat of where it should be?",
    "which is in tune": "Versions of an interval or chord. One stands still, the others beat.",
    "tune it": "Turn the upper note with the keys until it stands still. What is left counts.",
    "find the culprit": "A chord with one note off. Which one, and which way?",
    "which note": "A slow tune with backing, one note of it off. Which one?",
    "difference tone": (
        "The root, then two high notes. Together they hum low: does the hum fit as the root? It "
        "is soft; headphones do not take it away, since it arises in the ear."
    ),
    "remember": "A tone, silence, a tone. Is it the same?",
}
WHAT_IS_DUE = "what is due"
INTERVAL_EXPLAINED = (
    "What is due is chosen from your results and spaced over days: 1, 3, 7, 16. Or choose one "
    "interval, chord or tune."
)
REGISTER_EXPLAINED = "Where on your instrument the notes lie. The ear differs between registers."
VERSIONS_EXPLAINED = "How many versions are compared. Three are harder to guess."
MINUTES_EXPLAINED = "Three to six minutes. Short and often is better than long and seldom."
FEEDBACK_EXPLAINED = {
    "after each answer": (
        "You are told after each answer. Good to begin with; it guides only while it lasts."
    ),
    "in summary": "You are told at the end only: harder now, and what you learn lasts longer.",
}
WHAT_HAPPENS = (
    "Space starts. No instrument and no microphone are needed; close your eyes while it sounds. "
    f"Keep it soft. {HEADPHONES}"
)
NO_RESULTS = "No results of this drill yet."
PREPARING = "One moment."
LISTEN = "Listen."
NEXT_WITH_SPACE = "Space: the next one."
TUNE_NOW = "← → move it a little, ↑ ↓ a lot. Space when it stands still."
NOTHING_ANSWERED = "Nothing was answered."

ABOUT: dict[str, str] = {
    EAR: (
        "A player cannot play finer than they hear. Choose what to listen for; the drill adapts "
        "to you and measures the smallest deviation that you hear."
    ),
    DRILL: (
        "Answer with the number beside the answer, as soon as you know. Guess when you do not: "
        "guesses are part of the measurement."
    ),
    TUNING: "Turn the note until the beats stand still. The page does not tell how far off it is.",
    RESULT: "The smallest deviation that you hear, with its range, and what to listen to next.",
}


def minutes(count: int) -> str:
    """Return a length as it is printed."""
    return f"{count} minutes"


def progress(spent_s: float, length_s: float, answers: int) -> str:
    """Return how far a block has come."""
    left = max(0.0, length_s - spent_s) / 60.0
    answered = "1 answer" if answers == 1 else f"{answers} answers"
    return f"{answered} · {left:.0f} min left" if left >= 0.5 else f"{answered} · nearly over"


def due_next(names: str) -> str:
    """Return what the next block practises."""
    return f"Next: {names}."


def due_again(when: str) -> str:
    """Return when what was practised is due again."""
    return f"Due again: {when}."
