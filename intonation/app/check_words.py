"""Labels and explanations of the instrument check, its verdict and the comparison."""

from __future__ import annotations

from typing import TYPE_CHECKING

from intonation.language import say, say_many
from intonation.words.dates import day_of_month

if TYPE_CHECKING:
    from intonation.store.checks import CheckRecord

CHECK, CHECKING, VERDICT, COMPARISON = (
    say("Check"),
    say("The check"),
    say("The verdict"),
    say("Before and after"),
)

FORM, NOTES, WARM = (
    say("Form"),
    say("Notes"),
    say("Played in"),
)
PLAYER = say(
    "Who plays. A teacher's check of the pupil's instrument tells the instrument from the pupil: "
    "type the teacher's name, or step to one on file."
)
INSTRUMENT_EXPLAINED = say(
    "The same player on a second instrument tells the player from the first one."
)
TARGETS = say(
    "What the instrument is built for. Every note is measured from equal temperament at this "
    "pitch; only its place among the other notes is judged."
)
BY_THE_FORM = say("by the form")
NOTES_OF_FORM = say("The form decides. Only a check off and on has notes of your own choice.")
CHOOSE_NOTES = say("Press Enter and type the notes that the change should move, and some others:")
TOO_FEW_CHOSEN = (
    say("Fewer than three notes cannot show what all of them share."),
    say("Name at least three, for example F4 A4 C5."),
)
IS_WARM = {True: say("yes, it is warm"), False: say("no, it is cold")}
WARM_EXPLAINED = {
    True: say("You have played for ten minutes or more, so the pitch rises no more."),
    False: say("It is taken into account that the pitch will rise, but warm it is surer."),
}

NO_RECORD = say("No practice record is at hand, so a check cannot be kept.")
PAUSED = say("Paused. Space goes on.")
READY = say("Space begins.")
NOT_HEARD = say("The sound has stopped. Space tries again.")

WORKING_OUT = say("Working out whose each deviation is. This takes a moment; Esc goes back.")
WHOSE = {
    "in tune": say("in tune"),
    "instrument": say("instrument"),
    "player": say("player"),
    "both": say("both"),
    "at least partly the instrument": say("part instr."),
    "at least partly the player": say("part player"),
    "not enough evidence": say("open"),
}
"""Verdicts where there is little room."""
CENTS, BARS = say("cents"), say("bars: 90 %")
PARTS = (say("instrument"), say("breath"), say("fingers"))
NUMBERS_HEADING = say("Cents from the mean of all notes, + sharp, with 90 % intervals")
TO_THE_WORKSHOP = say("W goes on to remedies.")
NOTHING_OPEN = say("No note would be settled by measuring it again.")

CHOOSE_SESSIONS = say("Mark a sitting and say B for before, A for after, or N for neither.")
NO_SESSIONS = say("There are no two sittings of this player on this instrument to compare yet.")
BOTH_SIDES = say("Say of at least one sitting that it was before the change, and of one after it.")

ABOUT_CHECK_PAGES = {
    CHECK: say(
        "Is it you or the instrument? A check plays every note as you always do, and with exact "
        "fingers from soft to loud. Choose who plays what, then Space begins."
    ),
    CHECKING: say(
        "Play the note that is shown. Nothing on the page moves while it sounds. Every note is "
        "kept at once, so you can stop at any time and go on later."
    ),
    VERDICT: say(
        "Per note: how many cents are the instrument's, the breath's and the fingers', each with "
        "its 90 % interval; who probably owns it, and what would settle what is open."
    ),
    COMPARISON: say(
        "Which notes changed between sittings, by how much, and what cannot be told. Breath, "
        "warmth, microphone and overall pitch are taken out."
    ),
}


def not_on_instrument(note: str, lowest: str, highest: str) -> tuple[str, str]:
    """Return why a note cannot be checked, and what to do."""
    return (
        say("{note} is not on this instrument.", note=note),
        say("It sounds {lowest} to {highest}.", lowest=lowest, highest=highest),
    )


def broken_off(record: CheckRecord) -> str:
    """Return that a check can be gone on with."""
    began = record.began_at.astimezone()
    when = f"{day_of_month(began)} {began:%H:%M}"
    return say(
        "The check of {when} was broken off after {settled} of {steps} tones. Space "
        "goes on with it; N begins a new one.",
        when=when,
        settled=record.settled,
        steps=record.steps,
    )


def begins(minutes: str) -> str:
    """Return what Space does."""
    return say("Space begins the check ({minutes}).", minutes=minutes)


def begins_simulated() -> str:
    """Return what Space does when nobody has to play."""
    return say(
        "Space begins the check. The simulated player plays it, faster than anyone could: in a "
        "minute or so, and with a slip here and there."
    )


def pass_of(number: int, count: int, name: str) -> str:
    """Return which pass is played."""
    return say("Pass {number} of {count}: {name}", number=number + 1, count=count, name=name)


def measure_again(count: int, minutes: str) -> str:
    """Return what the key for measuring again does now."""
    notes = say_many("one note", "{count} notes", count=count)
    return say("M measures {notes} again ({minutes}).", notes=notes, minutes=minutes)


def wide_or_narrow(low: float, high: float) -> str:
    """Return what an octave is, given the 90 % interval of its width beyond 1200 cents."""
    if low > 0.0:
        return say("wide")
    return say("narrow") if high < 0.0 else say("true, or too close to tell")
