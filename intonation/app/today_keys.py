"""The rows of the key table for today's practice."""

from intonation.app.keys import Key, back
from intonation.language import say

TODAY = (
    Key(
        name="today.start",
        keys=("space", "enter", "pagedown"),
        shown=say("Space"),
        action="start",
        label=say("Start"),
        explanation=say("Start the marked step; when it is over, the next one is marked."),
        in_key_line=True,
    ),
    Key(
        name="today.up",
        keys=("up",),
        shown="↑",
        action="move(-1)",
        label=say("Step above"),
        explanation=say("Mark the step above."),
    ),
    Key(
        name="today.down",
        keys=("down",),
        shown="↓",
        action="move(1)",
        label=say("Mark"),
        explanation=say("Mark the step below."),
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="today.shorter",
        keys=("left", "minus"),
        shown="←",
        action="length(-1)",
        label=say("Shorter"),
        explanation=say("A shorter plan."),
    ),
    Key(
        name="today.longer",
        keys=("right", "plus", "equals_sign"),
        shown="→",
        action="length(1)",
        label=say("Length"),
        explanation=say("A longer plan: 10, 20 or 30 minutes."),
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="today.another",
        keys=("o",),
        shown="O",
        action="another",
        label=say("Other"),
        explanation=say("Put something else of the kind in place of the marked step."),
        in_key_line=True,
    ),
    Key(
        name="today.leave_out",
        keys=("x", "delete"),
        shown="X",
        action="leave_out",
        label=say("Leave out"),
        explanation=say("Leave the marked step out."),
    ),
    back(
        "today.back",
        "y",
        "pageup",
        explanation=say(
            "Go back to practice. The plan stays as it is until you leave the program."
        ),
    ),
)
