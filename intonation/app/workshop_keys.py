"""The rows of the key table for the fingering chart and the workshop."""

from intonation.app.keys import Key, back, marking
from intonation.language import say

FINGERINGS = (
    Key(
        name="fingerings.up",
        keys=("up",),
        shown="↑",
        action="move(1)",
        label=say("Note above"),
        explanation=say("Mark the note above."),
    ),
    Key(
        name="fingerings.down",
        keys=("down",),
        shown="↓",
        action="move(-1)",
        label=say("Note"),
        explanation=say("Mark the note below."),
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="fingerings.system_before",
        keys=("left", "minus"),
        shown="←",
        action="step(-1)",
        label=say("System before"),
        explanation=say("The fingering system before: baroque, German or historic."),
    ),
    Key(
        name="fingerings.system",
        keys=("right", "plus", "equals_sign"),
        shown="→",
        action="step(1)",
        label=say("System"),
        explanation=say("The next fingering system: baroque, German or historic."),
        in_key_line=True,
        shown_with_pair="←→",
    ),
    back("fingerings.back", "f", "space"),
)

_MARK_UP, _MARK_DOWN = marking("marked")

WORKSHOP = (
    Key(
        name="workshop.predict",
        keys=("enter", "space"),
        shown=say("Enter"),
        action="predict",
        label=say("Predict"),
        explanation=say(
            "See what the marked work would do to every note, before you touch anything."
        ),
        in_key_line=True,
    ),
    _MARK_UP,
    _MARK_DOWN,
    Key(
        name="workshop.trials",
        keys=("t",),
        shown="T",
        action="trials",
        label=say("Trials"),
        explanation=say("What was tried, and what it did."),
        in_key_line=True,
    ),
    Key(
        name="workshop.dimensions",
        keys=("d",),
        shown="D",
        action="dimensions",
        label=say("Drawing"),
        explanation=say(
            "Name a file with the dimensions of this very instrument, from its drawing."
        ),
        in_key_line=True,
    ),
    Key(
        name="workshop.sheet",
        keys=("s",),
        shown="S",
        action="sheet",
        label=say("Sheet"),
        explanation=say("Write the sheet for the maker: one page to print."),
    ),
    Key(
        name="workshop.print",
        keys=("p",),
        shown="P",
        action="print_report",
        label=say("Print"),
        explanation=say(
            "Write the report of this instrument with everyone who played it, to print."
        ),
    ),
    Key(
        name="workshop.consort",
        keys=("g",),
        shown="G",
        action="consort",
        label=say("Consort"),
        explanation=say("The pitch and the pulls that bring several instruments together."),
    ),
    Key(
        name="workshop.check",
        keys=("c",),
        shown="C",
        action="check",
        label=say("Check"),
        explanation=say("The instrument check, and what the last one said of every note."),
    ),
    Key(
        name="workshop.learn",
        keys=("l",),
        shown="L",
        action="learn",
        label=say("Learn"),
        explanation=say(
            "Learn the workshop on a simulated alto with two faults, or go back to your own."
        ),
    ),
    back("workshop.back", "w"),
)

CONSORT = (
    Key(
        name="consort.choose",
        keys=("space", "enter"),
        shown=say("Space"),
        action="choose",
        label=say("Plays, or rests"),
        explanation=say("Let the marked instrument play, or rest."),
        in_key_line=True,
    ),
    _MARK_UP,
    _MARK_DOWN,
    back("consort.back", "g"),
)

PREDICTION = (
    Key(
        name="prediction.log",
        keys=("enter",),
        shown=say("Enter"),
        action="log",
        label=say("I have done it"),
        explanation=say("Keep that the work was done just now, with a word of your own."),
        in_key_line=True,
    ),
    Key(
        name="prediction.less",
        keys=("left", "minus"),
        shown="←",
        action="step(-1)",
        label=say("Less of it"),
        explanation=say("See a smaller amount."),
    ),
    Key(
        name="prediction.more",
        keys=("right", "plus", "equals_sign"),
        shown="→",
        action="step(1)",
        label=say("Amount"),
        explanation=say("See a larger amount."),
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="prediction.up",
        keys=("up",),
        shown="↑",
        action="scroll(-1)",
        label=say("Up"),
        explanation=say("Scroll up."),
    ),
    Key(
        name="prediction.down",
        keys=("down",),
        shown="↓",
        action="scroll(1)",
        label=say("Scroll"),
        explanation=say("Scroll down to the other notes and the cautions."),
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    back("prediction.back", explanation=say("Go back; nothing is kept.")),
)

TRIALS = (
    _MARK_UP,
    _MARK_DOWN,
    Key(
        name="trials.undo",
        keys=("u",),
        shown="U",
        action="undo",
        label=say("It is undone"),
        explanation=say("Keep that the marked trial was undone just now."),
        in_key_line=True,
    ),
    Key(
        name="trials.check",
        keys=("c",),
        shown="C",
        action="check",
        label=say("Check"),
        explanation=say("Play the instrument check again."),
        in_key_line=True,
    ),
    back("trials.back", "space", "t"),
)
