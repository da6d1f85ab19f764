"""The keys of the sound page."""

from intonation.app.keys import CHOOSING, Key, back

SOUND = (
    back("sound.back", "space", "s", explanation="Use these devices and go back."),
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
