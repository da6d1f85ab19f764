"""The keys of the pages on which a teacher looks after several players."""

from intonation.app.keys import Key, back, through_a_long_list
from intonation.language import say

PLAYERS = (
    Key(
        name="players.up",
        keys=("up",),
        shown="↑",
        action="move(-1)",
        label=say("Line above"),
        explanation=say("Mark the line above."),
    ),
    Key(
        name="players.down",
        keys=("down",),
        shown="↓",
        action="move(1)",
        label=say("Choose"),
        explanation=say("Mark the line below."),
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="players.use",
        keys=("enter",),
        shown=say("Enter"),
        action="use",
        label=say("Practise as"),
        explanation=say("Practise as the marked player, on the marked instrument."),
    ),
    Key(
        name="players.compare",
        keys=("c",),
        shown="C",
        action="compare",
        label=say("Compare"),
        explanation=say("Compare all players of the marked instrument, note by note."),
        in_key_line=True,
    ),
    Key(
        name="players.traces",
        keys=("v",),
        shown="V",
        action="look_back",
        label=say("Look back"),
        explanation=say("Look back at the marked player's takes, note by note."),
    ),
    Key(
        name="players.import",
        keys=("i",),
        shown="I",
        action="import",
        label=say("Import"),
        explanation=say("Take in a pupil's archive or a held-note table, without doubles."),
        in_key_line=True,
    ),
    Key(
        name="players.export",
        keys=("x",),
        shown="X",
        action="export",
        label=say("Export"),
        explanation=say("Write everything that is kept of the marked player into an archive."),
    ),
    Key(
        name="players.print",
        keys=("r",),
        shown="R",
        action="print_lesson",
        label=say("Print"),
        explanation=say("Write a page for the marked player's lesson, to be printed."),
        in_key_line=True,
    ),
    back(
        "players.back",
        "b",
        "pageup",
        explanation=say("Go back; what is being taken in is broken off."),
    ),
)

COMPARED = (
    *through_a_long_list("compared"),
    Key(
        name="compared.numbers",
        keys=("n",),
        shown="N",
        action="numbers",
        label=say("Numbers"),
        explanation=say("The same as numbers, or the drawing again."),
        in_key_line=True,
    ),
    back("compared.back", "b", "pageup", "space", explanation=say("Go back to the players.")),
)
