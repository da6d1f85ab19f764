"""The rows of the key table for the contents."""

from intonation.app.keys import Key, back
from intonation.language import say

CONTENTS = (
    Key(
        name="contents.up",
        keys=("up",),
        shown="↑",
        action="move(-1)",
        label=say("Line above"),
        explanation=say("Go to the page above."),
    ),
    Key(
        name="contents.down",
        keys=("down",),
        shown="↓",
        action="move(1)",
        label=say("Choose"),
        explanation=say("Go to the page below. The letter before a page opens it at once."),
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="contents.open",
        keys=("enter", "space", "pagedown"),
        shown=say("Enter"),
        action="open",
        label=say("Open"),
        explanation=say("Open the marked page."),
        in_key_line=True,
    ),
    back("contents.back", "m", "pageup", explanation=say("Go back to practice.")),
)
