"""The keys of the sound page."""

from intonation.app.keys import CHOOSING, Key

SOUND = (
    Key(
        name="sound.back",
        keys=("escape", "space", "s"),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Use these devices and go back.",
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="sound.search",
        keys=("d",),
        shown="D",
        action="search",
        label="Search",
        explanation="Look for devices again, after plugging one in.",
        in_key_line=True,
    ),
)
