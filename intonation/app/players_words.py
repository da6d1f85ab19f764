"""Labels and explanations of the pages on which a teacher looks after several players."""

PLAYERS, COMPARED = "Players", "Players compared"
READING = "Reading the record."
NO_RECORD = "No practice record is at hand, so there is nobody to list."
NOBODY = (
    "Nobody's notes are kept yet. Practise, or press I and name a pupil's archive or a held-note "
    "table."
)
WHAT_TO_DO = (
    "Enter practises as the marked player, V looks back at their takes. C compares all players of "
    "the marked instrument. "
    "I takes in a pupil's archive, X writes the marked player's, R a page for their lesson."
)
TO_IMPORT = "Name of an archive (.zip) or a held-note table (.csv) to take in"
TO_EXPORT = "Name of the archive to write, such as wren.zip"
TO_PRINT = "Name of the page to write, .html or .pdf"
ONE_PLAYER = "Only one player has played it so far. Take in another one's archive to compare."

ABOUT_PLAYERS_PAGES = {
    PLAYERS: (
        "Every player with every instrument of this record: your own, and those whose archives "
        "you have taken in. An archive is merged: what is here already is left out, so a pupil "
        "can send the whole file every week. Ask before you keep a pupil's file."
    ),
    COMPARED: (
        "Every note's mean on one instrument, a mark of its own for each player. What all of them "
        "share points to the instrument, what one does alone to that player; neither proves it."
    ),
}


def count_in_words(players: int) -> str:
    """Return how many players there are."""
    return "one player" if players == 1 else f"{players} players"


def working(share: float) -> str:
    """Return how far an import is."""
    return f"At work: {100 * share:.0f} %. Esc breaks it off, and nothing of it is kept."


def practised_as(player: str, instrument: str | None) -> str:
    """Return who practises from now on."""
    on = f" on {instrument}" if instrument else ""
    return f"From now on {player} practises{on}."


def printed(path: str) -> str:
    """Return that a page is written."""
    return f"{path} is ready to be printed."
