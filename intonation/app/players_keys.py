"""The keys of the pages on which a teacher looks after several players."""

from intonation.app.keys import Key, back, through_a_long_list

PLAYERS = (
    Key(
        name="players.up",
        keys=("up",),
        shown="↑",
        action="move(-1)",
        label="Line above",
        explanation="Mark the line above.",
    ),
    Key(
        name="players.down",
        keys=("down",),
        shown="↓",
        action="move(1)",
        label="Choose",
        explanation="Mark the line below.",
        in_key_line=True,
        shown_with_pair="↑↓",
    ),
    Key(
        name="players.use",
        keys=("enter",),
        shown="Enter",
        action="use",
        label="Practise as",
        explanation="Practise as the marked player, on the marked instrument.",
    ),
    Key(
        name="players.compare",
        keys=("c",),
        shown="C",
        action="compare",
        label="Compare",
        explanation="Compare all players of the marked instrument, note by note.",
        in_key_line=True,
    ),
    Key(
        name="players.traces",
        keys=("v",),
        shown="V",
        action="look_back",
        label="Look back",
        explanation="Look back at the marked player's takes, note by note.",
    ),
    Key(
        name="players.import",
        keys=("i",),
        shown="I",
        action="import",
        label="Import",
        explanation="Take in a pupil's archive or a held-note table, without doubles.",
        in_key_line=True,
    ),
    Key(
        name="players.export",
        keys=("x",),
        shown="X",
        action="export",
        label="Export",
        explanation="Write everything that is kept of the marked player into an archive.",
    ),
    Key(
        name="players.print",
        keys=("r",),
        shown="R",
        action="print_lesson",
        label="Print",
        explanation="Write a page for the marked player's lesson, to be printed.",
        in_key_line=True,
    ),
    back(
        "players.back", "b", "pageup", explanation="Go back; what is being taken in is broken off."
    ),
)

COMPARED = (
    *through_a_long_list("compared"),
    Key(
        name="compared.numbers",
        keys=("n",),
        shown="N",
        action="numbers",
        label="Numbers",
        explanation="The same as numbers, or the drawing again.",
        in_key_line=True,
    ),
    back("compared.back", "b", "pageup", "space", explanation="Go back to the players."),
)
