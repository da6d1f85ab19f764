"""The keys of the page on which a take is looked back at."""

from intonation.app.keys import Key, back

TRACES = (
    Key(
        name="traces.previous",
        keys=("left",),
        shown="←",
        action="step(-1)",
        label="Note before",
        explanation="The note before, or those before where several stand side by side.",
    ),
    Key(
        name="traces.next",
        keys=("right", "pagedown"),
        shown="→",
        action="step(1)",
        label="Note",
        explanation="The next note, or the next few.",
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="traces.earlier",
        keys=("up",),
        shown="↑",
        action="move(1)",
        label="Earlier take",
        explanation="The take before this one: yesterday's, and so on.",
    ),
    Key(
        name="traces.later",
        keys=("down",),
        shown="↓",
        action="move(-1)",
        label="Take",
        explanation="The take after this one.",
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="traces.several",
        keys=("a",),
        shown="A",
        action="several",
        label="Side by side",
        explanation="Several notes side by side on one axis, or one note large.",
        in_key_line=True,
    ),
    Key(
        name="traces.numbers",
        keys=("n",),
        shown="N",
        action="numbers",
        label="Numbers",
        explanation="The same as numbers, or the drawing again.",
        in_key_line=True,
    ),
    Key(
        name="traces.print",
        keys=("p",),
        shown="P",
        action="print_report",
        label="Print",
        explanation="Write the report of this take's sitting, to be printed.",
    ),
    back("traces.back", "b", "space", "pageup"),
)
