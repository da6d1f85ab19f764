"""The keys of the sound page."""

from intonation.app.keys import CHOOSING, Key, back
from intonation.language import say

SOUND = (
    *CHOOSING,
    Key(
        name="sound.search",
        keys=("d",),
        shown="D",
        action="search",
        label=say("Search"),
        explanation=say("Look for devices again, after plugging one in."),
        in_key_line=True,
    ),
    back("sound.back", "space", "s", explanation=say("Use these devices and go back.")),
)
