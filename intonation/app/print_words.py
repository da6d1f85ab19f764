"""Labels and explanations of the page on which a report is written, to be printed."""

from pathlib import Path

from intonation.language import say

PRINT = say("A page to print")
NO_RECORD = say("No practice record is at hand, so there is nothing to print.")
WHERE = say("Enter writes the file; type another name or folder first if you like, .html or .pdf.")
FILE_NAME = say("name of the page to write, .html or .pdf")
PLAYER_REPORT = say(
    "The report of a player over time: sittings, habits, and what the ear drills found."
)
SESSION_REPORT = say("The report of a sitting: every note, and each held note over time.")
INSTRUMENT_REPORT = say(
    "The report of an instrument: its notes with everyone who played it, and what was tried."
)
MAKER_SHEET = say(
    "The sheet for the maker: every note and octave with intervals, likely causes, and what was "
    "tried. Show it to a qualified maker before anything is cut."
)

ABOUT_PRINT_PAGES = {
    PRINT: say(
        "One HTML file that any browser shows and prints, drawings included; nothing is loaded "
        "from the network. If its name ends in .pdf, it is printed into a PDF, where WeasyPrint "
        "is installed. Without a folder before its name it lies where the program was started."
    ),
}


def writing(share: float) -> str:
    """Return how far the page is."""
    return say("Writing it: {share:.0f} %. Esc leaves it.", share=100 * share)


def written(path: Path) -> str:
    """Return where the page is."""
    return say("{path} is ready to be printed.", path=path.absolute())
