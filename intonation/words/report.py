"""What a printed report says of itself: what its figures are, and how surely they are known."""

from collections.abc import Sequence
from datetime import date, datetime

from intonation.assessment.bands import IN_TUNE_WINDOW_CENTS
from intonation.assessment.summary import NoteSummary
from intonation.language import say, say_many
from intonation.pitch.notes import note_name
from intonation.words.dates import day_in_full
from intonation.words.numbers import cents_word, rounded, sharp_or_flat

MEASURED = say(
    "Every figure is of a held note. Its pitch is the median over its sustain, which begins 0.15 "
    "seconds after the onset; its deviation is counted from its target in the chosen tuning, in "
    "cents: hundredths of an equal-tempered semitone. Plus is sharp."
)
WINDOW = say(
    "The shaded band is the window of {in_tune_window_cents:.0f} cents that breath can "
    "cover (common practice, no source).",
    in_tune_window_cents=IN_TUNE_WINDOW_CENTS,
)
HOW_SURE = say(
    "The interval about a mean is 90 %: where the mean lies in nine of ten such cases, from the "
    "spread of the single notes (Student's t). A note that was held once has none. Notes of one "
    "sitting share its warmth and its form, so another day may lie outside."
)
BLIND = say(
    "Nothing that moves with the pitch was on the screen while a note sounded, unless asked for."
)
THIRDS = say(
    "In each small drawing: the note's pitch about its target from onset to end, and beneath it "
    "the sounding level, which follows the breath."
)
OFF_TARGET = say(
    "Each ring is a sitting: how far from its target a note lay on average, whichever way. The "
    "line is the mean of five sittings. Sittings with other exercises differ for that reason too."
)
COMPARED = say(
    "Each mark is where a player's note usually lies, as the habits have it. Players differ in "
    "breath and fingers: what all of them share points to the instrument, but does not prove it."
)
BEFORE_AND_SINCE = say(
    "The ring is where a note usually lay in the weeks before the lesson, the diamond where it has "
    "lain since. A change counts as clear where it stands out among the changes of all notes: of "
    "those called clear, at most one in ten is chance."
)
NO_CLEAR_CHANGE = say("No note has changed by more than chance can do.")
NOTHING_YET = say("No held note is kept of this yet.")
FOR_NEXT_TIME = say("For next time")
EVERY_NOTE, NOTE_BY_NOTE = say("Every note"), say("Note by note")
THE_EAR, HABITS, WHAT_WAS_TRIED = say("The ear"), say("Habits"), say("What was tried")
WHAT_FIGURES_ARE = say("What the figures are, and how sure")
EVERY_NOTE_TITLE = say("Every note of the sitting on a cents axis")
BEFORE_AND_SINCE_TITLE = say("Every note before the last lesson and since")
USUALLY_LIES = say("Where each note usually lies")
AS_NUMBERS = say("The same as numbers")
AS_NUMBERS_MEANS = say("The same as numbers, mean cents from target")
AS_NUMBERS_FARTHEST = say("The same as numbers, the farthest from its target first")
MEANS_BY_PLAYER = say("Mean cents from target, by player")
FROM_THE_MEAN = say("Cents from the mean of all notes, with 90 % intervals")
NO_DATES = say("No sitting has a date.")

_UNSTEADY_CENTS = 5.0


def written_on(moment: datetime) -> str:
    """Return the line at the foot of a page."""
    return say(
        "Written by intonation on {day}. Cents are counted as above.",
        day=day_in_words(moment.date()),
    )


def title_of_player(player: str) -> str:
    """Return the title of a player's report."""
    return say("{player}: over time", player=player)


def title_of_lesson(player: str) -> str:
    """Return the title of the page for a lesson."""
    return say("{player}: for the lesson", player=player)


def title_of_instrument(instrument: str) -> str:
    """Return the title of an instrument's report."""
    return say("{instrument}: its notes", instrument=instrument)


def played_by(players: Sequence[str]) -> str:
    """Return who has played an instrument."""
    return say("Played by {players}", players=", ".join(players) or say("nobody yet"))


def notes_of(instrument: str) -> str:
    """Return what the drawing of an instrument shows."""
    return say("The notes of {instrument} on a cents axis", instrument=instrument)


def whose(player: str) -> str:
    """Return the heading over whose each deviation is."""
    return say("Whose each deviation is: {player}", player=player)


def on_instrument(instrument: str) -> str:
    """Return the heading over one of a player's instruments."""
    return say("On {instrument}", instrument=instrument)


def off_target_on(instrument: str) -> str:
    """Return what the drawing of sittings over time shows."""
    return say("Cents off target, sitting by sitting, on {instrument}", instrument=instrument)


def latest_sittings(count: int) -> str:
    """Return which sittings are listed."""
    return say("The latest {count} sittings", count=count)


def sittings_told(count: int, *, days: tuple[date, date], off_cents: tuple[float, float]) -> str:
    """Return what the drawing of sittings shows, for those who do not see it."""
    (first, last), (off_first, off_last) = days, off_cents
    return say(
        "{count} sittings from {first} to {last}. A note was on average {off_first} "
        "cents off in the first and {off_last} cents off in the last. The line is the "
        "mean of five sittings.",
        count=count,
        first=first,
        last=last,
        off_first=rounded(off_first, 1),
        off_last=rounded(off_last, 1),
    )


def drawn_and_listed(drawn: int, more: int) -> str:
    """Return how many held notes are drawn, and how many are only listed."""
    return say("The first {drawn} are drawn; {more} more are listed.", drawn=drawn, more=more)


def how_each_went(listed: int, held: int) -> str:
    """Return what the table of held notes shows."""
    return say(
        "How each note went ({listed} of {held}): cents from target by thirds; where it "
        "begins, from where it stays",
        listed=listed,
        held=held,
    )


def day_in_words(day: date) -> str:
    """Return a day: ``"14 March 2031"``."""
    return day_in_full(day)


def moment_in_words(moment: datetime | None) -> str:
    """Return a moment as a day and a time, in this system's time zone."""
    if moment is None:
        return say("no date")
    local = moment.astimezone()
    return f"{day_in_words(local.date())}, {local:%H:%M}"


def played(held_notes: int, sittings: int) -> str:
    """Return how much was played."""
    notes = say_many("one held note", "{count} held notes", count=held_notes)
    return say_many(
        "{notes} in one sitting", "{notes} in {count} sittings", count=sittings, notes=notes
    )


def minutes_played(minutes: float) -> str:
    """Return how long takes went on together."""
    return (
        say("takes of {minutes} minutes together", minutes=rounded(minutes))
        if minutes >= 1.0
        else ""
    )


def room(celsius: float | None) -> str:
    """Return the room's temperature; empty if it is not known."""
    return "" if celsius is None else say("room {celsius} °C", celsius=rounded(celsius))


def changed_most(name: str, change_cents: float, *, closer: bool) -> str:
    """Return that a note has changed since the last lesson."""
    moved = say("sharper") if change_cents > 0 else say("flatter")
    what = say("closer to its target") if closer else say("further from its target")
    return say(
        "{name} is {change_cents} {moved} than before: {what}.",
        name=name,
        change_cents=cents_word(change_cents),
        moved=moved,
        what=what,
    )


def notes_in_need(notes: Sequence[NoteSummary]) -> str:
    """Return which notes need most, the worst first; empty if there is none."""
    told = [f"{note_name(n.midi)}, {_need(n)}" for n in notes]
    return say("Most in need: {told}.", told="; ".join(told)) if told else ""


def _need(note: NoteSummary) -> str:
    if note.count > 1 and note.spread_cents > max(_UNSTEADY_CENTS, abs(note.mean_cents)):
        return say("which spreads by {spread_cents}", spread_cents=cents_word(note.spread_cents))
    return sharp_or_flat(note.mean_cents)
