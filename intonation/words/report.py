"""What a printed report says of itself: what its figures are, and how surely they are known."""

from collections.abc import Sequence
from datetime import date, datetime

from intonation.assessment.bands import IN_TUNE_WINDOW_CENTS
from intonation.assessment.summary import NoteSummary
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, rounded, sharp_or_flat

MEASURED = (
    "Every figure is of a held note. Its pitch is the median over its sustain, which begins 0.15 "
    "seconds after the onset; its deviation is counted from its target in the chosen tuning, in "
    "cents: hundredths of an equal-tempered semitone. Plus is sharp."
)
WINDOW = (
    f"The shaded band is the window of {IN_TUNE_WINDOW_CENTS:.0f} cents that breath can cover "
    "(common practice, no source)."
)
HOW_SURE = (
    "The interval about a mean is 90 %: where the mean lies in nine of ten such cases, from the "
    "spread of the single notes (Student's t). A note that was held once has none. Notes of one "
    "sitting share its warmth and its form, so another day may lie outside."
)
BLIND = (
    "Nothing that moves with the pitch was on the screen while a note sounded, unless asked for."
)
THIRDS = (
    "In each small drawing: the note's pitch about its target from onset to end, and beneath it "
    "the sounding level, which follows the breath."
)
OFF_TARGET = (
    "Each ring is a sitting: how far from its target a note lay on average, whichever way. The "
    "line is the mean of five sittings. Sittings with other exercises differ for that reason too."
)
COMPARED = (
    "Each mark is the mean of all that a player held of a note. Players differ in breath and "
    "fingers: what all of them share points to the instrument, but does not prove it."
)
BEFORE_AND_SINCE = (
    "The ring is the mean before the lesson, the diamond the mean since. A change counts as clear "
    "where the 90 % intervals of the two means, taken together, leave out zero."
)
NOTHING_YET = "No held note is kept of this yet."
FOR_NEXT_TIME = "For next time"
EVERY_NOTE, NOTE_BY_NOTE = "Every note", "Note by note"
THE_EAR, HABITS, WHAT_WAS_TRIED = "The ear", "Habits", "What was tried"
WHAT_FIGURES_ARE = "What the figures are, and how sure"
EVERY_NOTE_TITLE = "Every note of the sitting on a cents axis"
BEFORE_AND_SINCE_TITLE = "Every note before the last lesson and since"
USUALLY_LIES = "Where each note usually lies"
AS_NUMBERS = "The same as numbers"
AS_NUMBERS_MEANS = "The same as numbers, mean cents from target"
AS_NUMBERS_FARTHEST = "The same as numbers, the farthest from its target first"
MEANS_BY_PLAYER = "Mean cents from target, by player"
FROM_THE_MEAN = "Cents from the mean of all notes, with 90 % intervals"
NO_DATES = "No sitting has a date."

_UNSTEADY_CENTS = 5.0


def written_on(moment: datetime) -> str:
    """Return the line at the foot of a page."""
    return f"Written by intonation on {day_in_words(moment.date())}. Cents are counted as above."


def title_of_player(player: str) -> str:
    """Return the title of a player's report."""
    return f"{player}: over time"


def title_of_lesson(player: str) -> str:
    """Return the title of the page for a lesson."""
    return f"{player}: for the lesson"


def title_of_instrument(instrument: str) -> str:
    """Return the title of an instrument's report."""
    return f"{instrument}: its notes"


def played_by(players: Sequence[str]) -> str:
    """Return who has played an instrument."""
    return f"Played by {', '.join(players) or 'nobody yet'}"


def notes_of(instrument: str) -> str:
    """Return what the drawing of an instrument shows."""
    return f"The notes of {instrument} on a cents axis"


def whose(player: str) -> str:
    """Return the heading over whose each deviation is."""
    return f"Whose each deviation is: {player}"


def on_instrument(instrument: str) -> str:
    """Return the heading over one of a player's instruments."""
    return f"On {instrument}"


def off_target_on(instrument: str) -> str:
    """Return what the drawing of sittings over time shows."""
    return f"Cents off target, sitting by sitting, on {instrument}"


def latest_sittings(count: int) -> str:
    """Return which sittings are listed."""
    return f"The latest {count} sittings"


def sittings_told(count: int, *, days: tuple[date, date], off_cents: tuple[float, float]) -> str:
    """Return what the drawing of sittings shows, for those who do not see it."""
    (first, last), (off_first, off_last) = days, off_cents
    return (
        f"{count} sittings from {first} to {last}. A note was on average "
        f"{rounded(off_first, 1)} cents off in the first and {rounded(off_last, 1)} cents off in "
        "the last. The line is the mean of five sittings."
    )


def drawn_and_listed(drawn: int, more: int) -> str:
    """Return how many held notes are drawn, and how many are only listed."""
    return f"The first {drawn} are drawn; {more} more are listed."


def how_each_went(listed: int, held: int) -> str:
    """Return what the table of held notes shows."""
    return (
        f"How each note went ({listed} of {held}): cents from target by thirds; where it begins, "
        "from where it stays"
    )


def day_in_words(day: date) -> str:
    """Return a day: ``"14 March 2031"``."""
    return f"{day.day} {day:%B %Y}"


def moment_in_words(moment: datetime | None) -> str:
    """Return a moment as a day and a time, in this system's time zone."""
    if moment is None:
        return "no date"
    local = moment.astimezone()
    return f"{day_in_words(local.date())}, {local:%H:%M}"


def played(held_notes: int, sittings: int) -> str:
    """Return how much was played."""
    notes = "one held note" if held_notes == 1 else f"{held_notes} held notes"
    return f"{notes} in {'one sitting' if sittings == 1 else f'{sittings} sittings'}"


def minutes_played(minutes: float) -> str:
    """Return how long takes went on together."""
    return f"takes of {rounded(minutes)} minutes together" if minutes >= 1.0 else ""


def room(celsius: float | None) -> str:
    """Return the room's temperature; empty if it is not known."""
    return "" if celsius is None else f"room {rounded(celsius)} °C"


def changed_most(name: str, change_cents: float, *, closer: bool) -> str:
    """Return that a note has changed since the last lesson."""
    moved = "sharper" if change_cents > 0 else "flatter"
    what = "closer to its target" if closer else "further from its target"
    return f"{name} is {cents_word(change_cents)} {moved} than before: {what}."


def notes_in_need(notes: Sequence[NoteSummary]) -> str:
    """Return which notes need most, the worst first; empty if there is none."""
    told = [f"{note_name(n.midi)}, {_need(n)}" for n in notes]
    return f"Most in need: {'; '.join(told)}." if told else ""


def _need(note: NoteSummary) -> str:
    if note.count > 1 and note.spread_cents > max(_UNSTEADY_CENTS, abs(note.mean_cents)):
        return f"which spreads by {cents_word(note.spread_cents)}"
    return sharp_or_flat(note.mean_cents)
