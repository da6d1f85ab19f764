"""The keys of the page of one's own instruments."""

from intonation.app.keys import CHOOSING, Key, back
from intonation.language import say

INSTRUMENTS = (
    *CHOOSING,
    Key(
        name="instruments.add",
        keys=("a",),
        shown="A",
        action="add",
        label=say("Add"),
        explanation=say("Name another instrument of yours; it is taken in hand."),
        in_key_line=True,
    ),
    Key(
        name="instruments.forget",
        keys=("d", "delete"),
        shown="D",
        action="forget",
        label=say("Forget"),
        explanation=say("Forget the instrument in hand, if nobody has played it yet."),
        in_key_line=True,
    ),
    back("instruments.back", "pageup", explanation=say("Go back to practice.")),
)
