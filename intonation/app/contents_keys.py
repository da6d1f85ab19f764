"""The rows of the key table for the contents."""

from intonation.app.keys import Key, back

CONTENTS = (
    Key(
        name="contents.up",
        keys=("up",),
        shown="↑",
        action="move(-1)",
        label="Line above",
        explanation="Go to the page above.",
    ),
    Key(
        name="contents.down",
        keys=("down",),
        shown="↓",
        action="move(1)",
        label="Choose",
        explanation="Go to the page below. The letter before a page opens it at once.",
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="contents.open",
        keys=("enter", "space", "pagedown"),
        shown="Enter",
        action="open",
        label="Open",
        explanation="Open the marked page.",
        in_key_line=True,
    ),
    back("contents.back", "m", "pageup", explanation="Go back to practice."),
)
