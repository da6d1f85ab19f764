"""The keys of the pages for the ear."""

from intonation.app.keys import CHOOSING, Key, back
from intonation.language import say, say_many

_BACK = back("ear.back", "b", "pageup", explanation=say("Go back to practice."))

EAR = (
    Key(
        name="ear.start",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="start",
        label=say("Start"),
        explanation=say("Start the drill. A page-turn pedal does the same."),
        in_key_line=True,
    ),
    *CHOOSING,
    Key(
        name="ear.example",
        keys=("h",),
        shown="H",
        action="example",
        label=say("Hear one"),
        explanation=say("Hear an example, told what to listen for; nothing is asked."),
        in_key_line=True,
    ),
    _BACK,
)

_END = Key(
    name="ear.end",
    keys=("escape",),
    shown=say("Esc"),
    action="end",
    label=say("End"),
    explanation=say("End the block and see the result. Every answer is kept already."),
    in_key_line=True,
)
_SOFTER = Key(
    name="ear.softer",
    keys=("minus",),
    shown="−",
    action="app.loudness(-3)",
    label=say("Softer"),
    explanation=say("Make what comes next softer by 3 dB."),
)
_LOUDER = Key(
    name="ear.louder",
    keys=("plus", "equals_sign"),
    shown="+",
    action="app.loudness(3)",
    label=say("Loudness"),
    explanation=say("Make what comes next louder by 3 dB."),
)

DRILL = (
    *(
        Key(
            name=f"ear.answer_{number}",
            keys=(str(number),),
            shown=str(number),
            action=f"answer({number})",
            label=say_many("Answer", "Answer {count}", count=number),
            explanation=say("Give answer {number}.", number=number),
            in_key_line=number == 1,
            shown_with_pair="1 2 …" if number == 1 else None,
        )
        for number in range(1, 10)
    ),
    Key(
        name="ear.next",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="next",
        label=say("Next"),
        explanation=say("Go on after reading how it was. A page-turn pedal does the same."),
        in_key_line=True,
    ),
    _SOFTER,
    _LOUDER,
    _END,
)

TUNING = (
    Key(
        name="ear.finer_down",
        keys=("left",),
        shown="←",
        action="turn(0, -1)",
        label=say("Little down"),
        explanation=say("Move the note down a little."),
    ),
    Key(
        name="ear.finer_up",
        keys=("right",),
        shown="→",
        action="turn(0, 1)",
        label=say("Turn"),
        explanation=say("Move the note up a little."),
        in_key_line=True,
        shown_with_pair="←→↑↓",
    ),
    Key(
        name="ear.coarser_down",
        keys=("down",),
        shown="↓",
        action="turn(-1, 0)",
        label=say("Lot down"),
        explanation=say("Move the note down a lot."),
    ),
    Key(
        name="ear.coarser_up",
        keys=("up",),
        shown="↑",
        action="turn(1, 0)",
        label=say("Lot up"),
        explanation=say("Move the note up a lot."),
    ),
    Key(
        name="ear.hear",
        keys=("h",),
        shown="H",
        action="turn(0, 0)",
        label=say("Hear"),
        explanation=say("Hear it again as it is."),
        in_key_line=True,
    ),
    Key(
        name="ear.in_tune",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="next",
        label=say("In tune"),
        explanation=say("Leave it as it is, then go on to the next note."),
        in_key_line=True,
    ),
    _SOFTER,
    _LOUDER,
    _END,
)

RESULT = (
    Key(
        name="ear.again",
        keys=("space", "pagedown"),
        shown=say("Space"),
        action="again",
        label=say("Again"),
        explanation=say("Go back to the choices for another drill."),
        in_key_line=True,
    ),
    Key(
        name="ear.up",
        keys=("up",),
        shown="↑",
        action="scroll(-1)",
        label=say("Up"),
        explanation=say("Go up a long result."),
    ),
    Key(
        name="ear.down",
        keys=("down",),
        shown="↓",
        action="scroll(1)",
        label=say("Down"),
        explanation=say("Go down a long result."),
    ),
    _BACK,
)
