"""The rows of the key table for pages that are written to be printed."""

from intonation.app.keys import Key, back

PRINT = (
    Key(
        name="print.write",
        keys=("enter",),
        shown="Enter",
        action="write",
        label="Write it",
        explanation="Write the page under the name that is typed.",
        in_key_line=True,
    ),
    back("print.back", "space", explanation="Go back; what is not written yet is left."),
)
