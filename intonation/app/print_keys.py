"""The rows of the key table for pages that are written to be printed."""

from intonation.app.keys import Key, back
from intonation.language import say

PRINT = (
    Key(
        name="print.write",
        keys=("enter",),
        shown=say("Enter"),
        action="write",
        label=say("Write it"),
        explanation=say("Write the page under the name that is typed."),
        in_key_line=True,
    ),
    back("print.back", "space", explanation=say("Go back; what is not written yet is left.")),
)
