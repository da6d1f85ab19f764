"""The rows of the key table for the set-up."""

from intonation.app.keys import CHOOSING, Key, back

SET_UP = (
    Key(
        name="set_up.next",
        keys=("space", "pagedown"),
        shown="Space",
        action="next",
        label="Next",
        explanation="Go on; what you do not change keeps its usual value.",
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="set_up.check",
        keys=("c",),
        shown="C",
        action="check",
        label="Check the sound",
        explanation="On the page of the sound check: listen, then play a soft chirp and tone.",
        in_key_line=True,
    ),
    back(
        "set_up.back",
        "pageup",
        "backspace",
        explanation="Go back a page; from the first one, to practice.",
    ),
    Key(
        name="set_up.leave",
        keys=("x",),
        shown="X",
        action="leave",
        label="Leave the set-up",
        explanation="Leave the rest as it is and go to practice. U comes back here.",
    ),
)
