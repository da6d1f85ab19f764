"""The rows of the key table for the fingering chart and the workshop."""

from intonation.app.keys import Key

FINGERINGS = (
    Key(
        name="fingerings.up",
        keys=("up",),
        shown="↑",
        action="move(1)",
        label="Note above",
        explanation="Mark the note above.",
    ),
    Key(
        name="fingerings.down",
        keys=("down",),
        shown="↓",
        action="move(-1)",
        label="Note",
        explanation="Mark the note below.",
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="fingerings.system_before",
        keys=("left", "minus"),
        shown="←",
        action="step(-1)",
        label="System before",
        explanation="The fingering system before: baroque, German or historic.",
    ),
    Key(
        name="fingerings.system",
        keys=("right", "plus", "equals_sign"),
        shown="→",
        action="step(1)",
        label="System",
        explanation="The next fingering system: baroque, German or historic.",
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="fingerings.back",
        keys=("escape", "f", "space"),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Go back.",
        in_key_line=True,
    ),
)

_MARK_UP = Key(
    name="marked.up",
    keys=("up",),
    shown="↑",
    action="move(-1)",
    label="Line above",
    explanation="Mark the line above.",
)
_MARK_DOWN = Key(
    name="marked.down",
    keys=("down",),
    shown="↓",
    action="move(1)",
    label="Mark",
    explanation="Mark the line below.",
    in_key_line=True,
    shown_with_pair="↑↓",
)

WORKSHOP = (
    Key(
        name="workshop.predict",
        keys=("enter", "space"),
        shown="Enter",
        action="predict",
        label="What it would do",
        explanation="See what the marked work would do to every note, before you touch anything.",
        in_key_line=True,
    ),
    _MARK_UP,
    _MARK_DOWN,
    Key(
        name="workshop.trials",
        keys=("t",),
        shown="T",
        action="trials",
        label="Trials",
        explanation="What was tried, and what it did.",
        in_key_line=True,
    ),
    Key(
        name="workshop.back",
        keys=("escape", "w"),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Go back.",
        in_key_line=True,
    ),
)

PREDICTION = (
    Key(
        name="prediction.log",
        keys=("enter",),
        shown="Enter",
        action="log",
        label="I have done it",
        explanation="Keep that the work was done just now, with a word of your own.",
        in_key_line=True,
    ),
    Key(
        name="prediction.less",
        keys=("left", "minus"),
        shown="←",
        action="step(-1)",
        label="Less of it",
        explanation="See a smaller amount.",
    ),
    Key(
        name="prediction.more",
        keys=("right", "plus", "equals_sign"),
        shown="→",
        action="step(1)",
        label="Amount",
        explanation="See a larger amount.",
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="prediction.up",
        keys=("up",),
        shown="↑",
        action="scroll(-1)",
        label="Up",
        explanation="Scroll up.",
    ),
    Key(
        name="prediction.down",
        keys=("down",),
        shown="↓",
        action="scroll(1)",
        label="Scroll",
        explanation="Scroll down to the other notes and the cautions.",
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="prediction.back",
        keys=("escape",),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Go back; nothing is kept.",
        in_key_line=True,
    ),
)

TRIALS = (
    _MARK_UP,
    _MARK_DOWN,
    Key(
        name="trials.undo",
        keys=("u",),
        shown="U",
        action="undo",
        label="It is undone",
        explanation="Keep that the marked trial was undone just now.",
        in_key_line=True,
    ),
    Key(
        name="trials.back",
        keys=("escape", "space", "t"),
        shown="Esc",
        action="back",
        label="Back",
        explanation="Go back.",
        in_key_line=True,
    ),
)
