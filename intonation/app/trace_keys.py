"""The keys of the page on which a take is looked back at."""

from intonation.app.keys import Key, back
from intonation.language import say

TRACES = (
    Key(
        name="traces.previous",
        keys=("left",),
        shown="←",
        action="step(-1)",
        label=say("Note before"),
        explanation=say("The note before, or those before where several stand side by side."),
    ),
    Key(
        name="traces.next",
        keys=("right", "pagedown"),
        shown="→",
        action="step(1)",
        label=say("Note"),
        explanation=say("The next note, or the next few."),
        in_key_line=True,
        shown_with_pair="←→",
    ),
    Key(
        name="traces.earlier",
        keys=("up",),
        shown="↑",
        action="move(1)",
        label=say("Earlier take"),
        explanation=say("The take before this one: yesterday's, and so on."),
    ),
    Key(
        name="traces.later",
        keys=("down",),
        shown="↓",
        action="move(-1)",
        label=say("Take"),
        explanation=say("The take after this one."),
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="traces.several",
        keys=("a",),
        shown="A",
        action="several",
        label=say("Side by side"),
        explanation=say("Several notes side by side on one axis, or one note large."),
        in_key_line=True,
    ),
    Key(
        name="traces.numbers",
        keys=("n",),
        shown="N",
        action="numbers",
        label=say("Numbers"),
        explanation=say("The same as numbers, or the drawing again."),
        in_key_line=True,
    ),
    Key(
        name="traces.print",
        keys=("p",),
        shown="P",
        action="print_report",
        label=say("Print"),
        explanation=say("Write the report of this take's sitting, to be printed."),
    ),
    back("traces.back", "b", "space", "pageup"),
)
