"""What the plain interface says besides the sentences of every other part."""

from intonation.language import say

WELCOME = say("intonation in plain lines. Type a letter and press Enter.")
HOME = (
    say("s: start a take against the drone."),
    say("e: exercises and melodies."),
    say("l: train the ear, without an instrument."),
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


def note(number: int, headline: str) -> str:
    """Return the first line of a note that ended."""
    return say("Note {number}: {headline}.", number=number, headline=headline)


def again(task: str, rounds_before: int) -> str:
    """Return a task that comes once more."""
    return say("{task}, round {rounds_before}", task=task, rounds_before=rounds_before + 1)


def play(task: str, notes: str) -> str:
    """Return what is to be played now."""
    return f"{task}: {notes}"
