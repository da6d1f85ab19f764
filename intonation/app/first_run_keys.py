"""The rows of the key table for the set-up."""

from intonation.app.keys import CHOOSING, Key, back
from intonation.language import say

SET_UP = (
    Key(
        name="set_up.next",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="next",
        label=say("Next"),
        explanation=say("Go on; what you do not change keeps its usual value."),
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="set_up.add",
        keys=("a",),
        shown="A",
        action="add",
        label=say("Add"),
        explanation=say("On the first page: name another instrument of yours."),
        in_key_line=True,
    ),
    Key(
        name="set_up.check",
        keys=("c",),
        shown="C",
        action="check",
        label=say("Check the sound"),
        explanation=say("On the page of the sound check: listen, then play a soft chirp and tone."),
        in_key_line=True,
    ),
    back(
        "set_up.back",
        "pageup",
        "backspace",
        explanation=say("Go back a page; from the first one, to practice."),
    ),
    Key(
        name="set_up.leave",
        keys=("x",),
        shown="X",
        action="leave",
        label=say("Leave the set-up"),
        explanation=say("Leave the rest as it is and go to practice. U comes back here."),
    ),
)
