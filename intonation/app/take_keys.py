"""The keys of a take and of its summary."""

from intonation.app.keys import Key, back, through_a_long_list
from intonation.language import say

TAKE = (
    Key(
        name="take.end",
        keys=("space", "pagedown", "escape"),
        shown=say("Space"),
        action="end",
        label=say("End"),
        explanation=say("End the take and see every note of it. A page-turn pedal does the same."),
        in_key_line=True,
    ),
    Key(
        name="take.reveal",
        keys=("r", "pageup"),
        shown="R",
        action="reveal",
        label=say("Show pitch"),
        explanation=say(
            "Show the pitch while a note sounds, or hide it again. Hidden trains the ear."
        ),
        in_key_line=True,
    ),
    Key(
        name="take.softer",
        keys=("minus", "left", "down"),
        shown="−",
        action="app.loudness(-3)",
        label=say("Softer"),
        explanation=say("Make the drone softer by 3 dB."),
    ),
    Key(
        name="take.louder",
        keys=("plus", "equals_sign", "right", "up"),
        shown="+",
        action="app.loudness(3)",
        label=say("Loudness"),
        explanation=say("Make the drone louder by 3 dB."),
        in_key_line=True,
        shown_with_pair="−+",
    ),
)

SUMMARY = (
    *through_a_long_list("summary"),
    Key(
        name="summary.again",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="again",
        label=say("Play again"),
        explanation=say("Start another take with the same choices."),
        in_key_line=True,
    ),
    back("summary.back", "b", "pageup", explanation=say("Go back to where the take was chosen.")),
    Key(
        name="summary.traces",
        keys=("v",),
        shown="V",
        action="app.open('traces')",
        label=say("Look back"),
        explanation=say("Each held note of the take over time, with the breath beneath."),
        in_key_line=True,
    ),
    Key(
        name="summary.workshop",
        keys=("w",),
        shown="W",
        action="app.open('workshop')",
        label=say("Workshop"),
        explanation=say("What is wrong with the instrument, what to try, and what a trial did."),
        in_key_line=True,
    ),
)
