"""The rows of the key table for the habits: all notes, and one of them."""

from intonation.app.keys import Key, back
from intonation.language import say

HABITS = (
    Key(
        name="habits.lower",
        keys=("left", "up"),
        shown="←",
        action="move(-1)",
        label=say("Note below"),
        explanation=say("Mark the note below."),
    ),
    Key(
        name="habits.higher",
        keys=("right", "down"),
        shown="→",
        action="move(1)",
        label=say("Note"),
        explanation=say("Mark the note above."),
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="habits.closer",
        keys=("enter", "space"),
        shown=say("Enter"),
        action="closer",
        label=say("This note"),
        explanation=say("See the marked note week by week, and what its pitch goes with."),
        in_key_line=True,
    ),
    Key(
        name="habits.numbers",
        keys=("n",),
        shown="N",
        action="numbers",
        label=say("Numbers"),
        explanation=say("See the same as a table of numbers, or as a picture again."),
        in_key_line=True,
    ),
    Key(
        name="habits.print",
        keys=("p",),
        shown="P",
        action="print_report",
        label=say("Print"),
        explanation=say("Write the player's report over time, to be printed."),
        in_key_line=True,
    ),
    back("habits.back", "b"),
)

HABIT_NOTE = (
    Key(
        name="habit.lower",
        keys=("left",),
        shown="←",
        action="move(-1)",
        label=say("Note below"),
        explanation=say("Go to the note below."),
    ),
    Key(
        name="habit.higher",
        keys=("right",),
        shown="→",
        action="move(1)",
        label=say("Note"),
        explanation=say("Go to the note above."),
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="habit.up",
        keys=("up",),
        shown="↑",
        action="scroll(-1)",
        label=say("Up"),
        explanation=say("Scroll up."),
    ),
    Key(
        name="habit.down",
        keys=("down",),
        shown="↓",
        action="scroll(1)",
        label=say("Scroll"),
        explanation=say("Scroll down to what the pitch goes with."),
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    back("habit.back", "b", "enter", "space", explanation=say("Go back to all notes.")),
)
