"""How a held note went from onset to end, in words."""

from intonation.assessment.course import Course
from intonation.words.numbers import cents_word, rounded

NO_TRACE = "No picture of this note was kept: it was held before pictures were, or imported."
TOO_SHORT = "Too short to say how it went."
NOTHING_TO_SEE = "No take with a held note is kept yet. Play one, then come back."

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
        return "It begins where it stays."
    return f"It begins {cents_word(begun)} {'above' if begun > 0 else 'below'} where it stays."


def _end(course: Course) -> str:
    change = course.end_change_cents
    if abs(change) < _MOVED_CENTS:
        return "It keeps its pitch to the end."
    moved = "rises" if change > 0 else "sinks"
    return f"It {moved} {cents_word(change)} in its last third."


def _breath(course: Course) -> str:
    if course.level_range_db is None:
        return ""
    size = rounded(course.level_range_db, 1)
    if course.level_range_db < _EVEN_DB:
        return f"The breath is even within {size} dB."
    return f"The breath moves over {size} dB."
