"""Labels and explanations of the pages on which a teacher looks after several players."""

from intonation.language import say, say_many

PLAYERS, COMPARED = say("Players"), say("Players compared")
READING = say("Reading the record.")
NO_RECORD = say("No practice record is at hand, so there is nobody to list.")
NOBODY = say(
    "Nobody's notes are kept yet. Practise, or press I and name a pupil's archive or a held-note "
    "table."
)
WHAT_TO_DO = say(
    "Enter practises as the marked player, V looks back at their takes. C compares all players of "
    "the marked instrument. "
    "I takes in a pupil's archive, X writes the marked player's, R a page for their lesson."
)
TO_IMPORT = say("Name of an archive (.zip) or a held-note table (.csv) to take in")
TO_EXPORT = say("Name of the archive to write, such as wren.zip")
TO_PRINT = say("Name of the page to write, .html or .pdf")
ONE_PLAYER = say("Only one player has played it so far. Take in another one's archive to compare.")

ABOUT_PLAYERS_PAGES = {
    PLAYERS: say(
        "Every player with every instrument of this record: your own, and those whose archives "
        "you have taken in. An archive is merged: what is here already is left out, so a pupil "
        "can send the whole file every week. Ask before you keep a pupil's file."
    ),
    COMPARED: say(
        "Every note's mean on one instrument, a mark of its own for each player. What all of them "
        "share points to the instrument, what one does alone to that player; neither proves it."
    ),
}


def count_in_words(players: int) -> str:
    """Return how many players there are."""
    return say_many("one player", "{count} players", count=players)


def working(share: float) -> str:
    """Return how far an import is."""
    return say(
        "At work: {share:.0f} %. Esc breaks it off, and nothing of it is kept.", share=100 * share
    )


SIZE_NOT_KNOWN = say(
    "The size of the instrument is not known: type its name on the page of instruments (I), then "
    "choose its size there."
)


def practised_as(player: str, instrument: str | None) -> str:
    """Return who practises from now on."""
    on = say(" on {instrument}", instrument=instrument) if instrument else ""
    practises = say("From now on {player} practises{on}.", player=player, on=on)
    return practises if instrument else f"{practises} {SIZE_NOT_KNOWN}"


def printed(path: str) -> str:
    """Return that a page is written."""
    return say("{path} is ready to be printed.", path=path)
