"""Labels and explanations of the instrument check, its verdict and the comparison."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from intonation.store.checks import CheckRecord

CHECK, CHECKING, VERDICT, COMPARISON = "Check", "The check", "The verdict", "Before and after"

SIZE, NAME, FORM, NOTES, WARM = "Instrument", "its own name", "Form", "Notes", "Played in"
PLAYER = (
    "Who plays. A teacher's check of the pupil's instrument tells the instrument from the pupil: "
    "type the teacher's name, or step to one on file."
)
NAME_EXPLAINED = (
    "A name of your own tells two instruments of one size apart, for example `pear alto`. The "
    "same player on a second instrument tells the player from the first one."
)
TARGETS = (
    "What the instrument is built for. Every note is measured from equal temperament at this "
    "pitch; only its place among the other notes is judged."
)
BY_THE_FORM = "by the form"
NOTES_OF_FORM = "The form decides. Only a check off and on has notes of your own choice."
CHOOSE_NOTES = "Press Enter and type the notes that the change should move, and some others:"
TOO_FEW_CHOSEN = (
    "Fewer than three notes cannot show what all of them share.",
    "Name at least three, for example F4 A4 C5.",
)
IS_WARM = {True: "yes, it is warm", False: "no, it is cold"}
WARM_EXPLAINED = {
    True: "You have played for ten minutes or more, so the pitch rises no more.",
    False: "It is taken into account that the pitch will rise, but warm it is surer.",
}

NO_RECORD = "No practice record is at hand, so a check cannot be kept."
PAUSED = "Paused. Space goes on."
READY = "Space begins."
NOT_HEARD = "The sound has stopped. Space tries again."

WORKING_OUT = "Working out whose each deviation is. This takes a moment; Esc goes back."
WHOSE = {
    "in tune": "in tune",
    "instrument": "instrument",
    "player": "player",
    "both": "both",
    "at least partly the instrument": "part instr.",
    "at least partly the player": "part player",
    "not enough evidence": "open",
}
"""Verdicts where there is little room."""
CENTS, BARS = "cents", "bars: 90 %"
PARTS = ("instrument", "breath", "fingers")
NUMBERS_HEADING = "Cents from the mean of all notes, + sharp, with 90 % intervals"
NOTHING_OPEN = "No note is open: there is nothing to measure again."

CHOOSE_SESSIONS = "Mark a sitting and say B for before, A for after, or N for neither."
NO_SESSIONS = "There are no two sittings of this player on this instrument to compare yet."
BOTH_SIDES = "Say of at least one sitting that it was before the change, and of one after it."

ABOUT_CHECK_PAGES = {
    CHECK: (
        "Is it you or the instrument? A check plays every note as you always do, and with exact "
        "fingers from soft to loud. Choose who plays what, then Space begins."
    ),
    CHECKING: (
        "Play the note that is shown. Nothing on the page moves while it sounds. Every note is "
        "kept at once, so you can stop at any time and go on later."
    ),
    VERDICT: (
        "Per note: how many cents are the instrument's, the breath's and the fingers', each with "
        "its 90 % interval; who probably owns it, and what would settle what is open."
    ),
    COMPARISON: (
        "Which notes changed between sittings, by how much, and what cannot be told. Breath, "
        "warmth, microphone and overall pitch are taken out."
    ),
}


def not_on_instrument(note: str, lowest: str, highest: str) -> tuple[str, str]:
    """Return why a note cannot be checked, and what to do."""
    return (f"{note} is not on this instrument.", f"It sounds {lowest} to {highest}.")


def broken_off(record: CheckRecord) -> str:
    """Return that a check can be gone on with."""
    when = record.began_at.astimezone().strftime("%d %B %H:%M").lstrip("0")
    return (
        f"The check of {when} was broken off after {record.settled} of {record.steps} tones. "
        "Space goes on with it; N begins a new one."
    )


def begins(minutes: str) -> str:
    """Return what Space does."""
    return f"Space begins the check ({minutes})."


def pass_of(number: int, count: int, name: str) -> str:
    """Return which pass is played."""
    return f"Pass {number + 1} of {count}: {name}"


def measure_again(count: int, minutes: str) -> str:
    """Return what the key for measuring again does now."""
    notes = "this note" if count == 1 else f"these {count} notes"
    return f"M measures {notes} again ({minutes})."


def wide_or_narrow(low: float, high: float) -> str:
    """Return what an octave is, given the 90 % interval of its width beyond 1200 cents."""
    if low > 0.0:
        return "wide"
    return "narrow" if high < 0.0 else "true, or too close to tell"
