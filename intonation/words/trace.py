"""How a held note went from onset to end, in words."""

from intonation.assessment.course import Course
from intonation.language import say
from intonation.words.numbers import cents_word, rounded

NO_TRACE = say("No picture of this note was kept: it was held before pictures were, or imported.")
TOO_SHORT = say("Too short to say how it went.")
NOTHING_TO_SEE = say("No take with a held note is kept yet. Play one, then come back.")

_NOTICED_CENTS = 8.0
_MOVED_CENTS = 3.0
_EVEN_DB = 3.0
"""What is worth a word: design judgement, above the spread of an ordinary held note."""


def course_in_words(course: Course) -> str:
    """Return beginning, end and breath of a note, in at most three sentences."""
    return " ".join([_beginning(course), _end(course), _breath(course)]).strip()


def _beginning(course: Course) -> str:
    begun = course.beginning_cents
    if begun is None or abs(begun) < _NOTICED_CENTS:
        return say("It begins where it stays.")
    return (
        say("It begins {begun} above where it stays.", begun=cents_word(begun))
        if begun > 0
        else say("It begins {begun} below where it stays.", begun=cents_word(begun))
    )


def _end(course: Course) -> str:
    change = course.end_change_cents
    if abs(change) < _MOVED_CENTS:
        return say("It keeps its pitch to the end.")
    moved = say("rises") if change > 0 else say("sinks")
    return say("It {moved} {change} in its last third.", moved=moved, change=cents_word(change))


def _breath(course: Course) -> str:
    if course.level_range_db is None:
        return ""
    size = rounded(course.level_range_db, 1)
    if course.level_range_db < _EVEN_DB:
        return say("The breath is even within {size} dB.", size=size)
    return say("The breath moves over {size} dB.", size=size)
