"""The rows of the key table for the fingering chart and the workshop."""

from intonation.app.keys import Key, back, marking

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
    back("fingerings.back", "f", "space"),
)

_MARK_UP, _MARK_DOWN = marking("marked")

WORKSHOP = (
    Key(
        name="workshop.predict",
        keys=("enter", "space"),
        shown="Enter",
        action="predict",
        label="Predict",
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
        name="workshop.dimensions",
        keys=("d",),
        shown="D",
        action="dimensions",
        label="Drawing",
        explanation="Name a file with the dimensions of this very instrument, from its drawing.",
        in_key_line=True,
    ),
    Key(
        name="workshop.sheet",
        keys=("s",),
        shown="S",
        action="sheet",
        label="Sheet",
        explanation="Write the sheet for the maker: one page to print.",
    ),
    Key(
        name="workshop.print",
        keys=("p",),
        shown="P",
        action="print_report",
        label="Print",
        explanation="Write the report of this instrument with everyone who played it, to print.",
    ),
    Key(
        name="workshop.consort",
        keys=("g",),
        shown="G",
        action="consort",
        label="Consort",
        explanation="The pitch and the pulls that bring several instruments together.",
    ),
    Key(
        name="workshop.check",
        keys=("c",),
        shown="C",
        action="app.open('check')",
        label="Check",
        explanation="The instrument check, and what the last one said of every note.",
    ),
    back("workshop.back", "w"),
)

CONSORT = (
    Key(
        name="consort.choose",
        keys=("space", "enter"),
        shown="Space",
        action="choose",
        label="Plays, or rests",
        explanation="Let the marked instrument play, or rest.",
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
    back("prediction.back", explanation="Go back; nothing is kept."),
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
    back("trials.back", "space", "t"),
)
