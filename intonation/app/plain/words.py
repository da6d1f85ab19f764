"""What the plain interface says besides the sentences of every other part."""

from intonation.language import say

WELCOME = say("intonation in plain lines. Type a letter and press Enter.")
HOME = (
    say("s: start a take against the drone."),
    say("y: today's practice, planned from your own record."),
    say("e: exercises and melodies."),
    say("l: train the ear, without an instrument."),
    say("k: check an instrument, and hear whose each note's deviation is."),
    say("c: change instrument, tuning, drone and loudness."),
    say("i: your instruments: take one in hand, name it, add another."),
    say("d: change microphone, output and sounds."),
    say("?: hear these letters again."),
    say("q: leave."),
)
TAKE_KEYS = say("Enter ends the take; + and − make the drone louder or softer.")
MELODY_KEYS = say("Enter ends the exercise; + and − make it louder or softer.")
CHOOSE = say(
    "Type a number for the next value, a number and a value to set it, for example 1 tenor, "
    "a number and ? for what it means. Enter goes back."
)
EXERCISES = say("Type a number to choose one. Enter goes back.")
EXERCISE_KEYS = say(
    "s: start. t and a number: tempo. p and a number: only that phrase; p: all. "
    "r and a number: rounds. m: your part sounds too, or not. n: bars of count-in. "
    "Enter goes back."
)
EAR = say("Enter starts the drill. h: hear an example. c: choose drill, interval, length. b: back.")
DRILL_KEYS = say("Type the number of your answer. e ends the block.")
NEXT = say("Enter: the next one.")
TUNING_KEYS = say(
    "+ and − turn the note up and down a little, ++ and −− a lot. h: hear it again. "
    "Enter when it stands still. e ends the block."
)
TODAY_KEYS = say(
    "Enter starts the next step, a number starts that one. x and a number leaves a step out, "
    "o and a number puts something else in its place. + and − make the plan longer or shorter. "
    "?: hear the plan again. b: back."
)
CHECK_KEYS = say(
    "s: begin the check. c: choose who plays, how thoroughly, and how warm it is. "
    "v: what the checks on file say. b: back."
)
GO_ON_KEYS = say("s goes on with it; n begins a new one.")
CHECKING_KEYS = say(
    "Enter begins a pass, pauses, and goes on. l leaves the note out. e leaves off; everything is "
    "kept."
)
BEGIN, PAUSED = say("Enter begins."), say("Paused. Enter goes on.")
SOUND_STOPPED = say("The sound has stopped. Enter tries again.")
WORKING_OUT = say("Working out whose each deviation is. This takes a moment.")
NO_CHECK = say(
    "No check of this player on this instrument is on file yet, or it has too few notes. s begins "
    "one."
)
DONE = say("done")
NOT_UNDERSTOOD = say("That is no answer here. Type ? for what there is.")
NO_SUCH_NUMBER = say("There is no such number here.")
SEARCHING = say("Looking for devices.")
GOODBYE = say("Goodbye.")


def numbered(number: int, label: str, value: str) -> str:
    """Return one line of a list of choices."""
    return f"{number}. {label}: {value}."


def numbered_title(number: int, title: str) -> str:
    """Return one line of a list of titles."""
    return f"{number}. {title}"


def planned(number: int, what: str, why: str | None) -> str:
    """Return one step of today's plan; without a reason it is done."""
    return f"{number}. {what}: {DONE}." if why is None else f"{number}. {what}. {why}"


def hold_again(note: str, minutes: str) -> str:
    """Return what to do in a take that is a step of the plan."""
    return say(
        "Hold {note} again and again for about {minutes}. Guess before each note is told: sharp or "
        "flat?",
        note=note,
        minutes=minutes,
    )


def broken_off(when: str, settled: int, steps: int) -> str:
    """Return that a check can be gone on with."""
    return say(
        "The check of {when} was broken off after {settled} of {steps} tones.",
        when=when,
        settled=settled,
        steps=steps,
    )


def measure_again(notes: int, minutes: str) -> str:
    """Return how what is open can be settled, if anything is."""
    return say("m: measure {notes} notes again ({minutes}).", notes=notes, minutes=minutes)


def in_tune(notes: str) -> str:
    """Return which notes are in tune."""
    return say("In tune: {notes}.", notes=notes)


def share(done: float) -> str:
    """Return how far a long work is."""
    return say("{done:.0f} % of it.", done=100.0 * done)


def note(number: int, headline: str) -> str:
    """Return the first line of a note that ended."""
    return say("Note {number}: {headline}.", number=number, headline=headline)


def again(task: str, rounds_before: int) -> str:
    """Return a task that comes once more."""
    return say("{task}, round {rounds_before}", task=task, rounds_before=rounds_before + 1)


def play(task: str, notes: str) -> str:
    """Return what is to be played now."""
    return f"{task}: {notes}"
