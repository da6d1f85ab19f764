"""Labels and explanations of the pages about habits."""

from intonation.language import say

HABITS, HABIT_NOTE = say("Habits"), say("One note")

LOOKING = say("Looking through your notes.")
NO_RECORD = say("No practice record is at hand, so there is nothing to look through.")
LEGEND = say(
    "◆ usual place   ┃ where it truly lies, 90 % sure   │ where 8 of 10 notes lie   · too few"
)
WHOSE = say("whose")
WHOSE_LETTERS = {
    "in tune": "=",
    "instrument": "I",
    "player": "Y",
    "both": "B",
    "at least partly the instrument": "i",
    "at least partly the player": "y",
    "not enough evidence": "?",
}
WHOSE_LEGEND = say(
    "By the instrument check: I instrument's, Y yours, B both, small: in part, = in tune, ? open"
)
NUMBERS_HEADING = say("  note cents               90 % spread 4 weeks held")
WEEK_BY_WEEK = say("Week by week     cents             90 % held")
NO_WEEKS = say("No dates are known of these notes.")
GOES_WITH = say("What it goes with, in cents more or less than otherwise")
SHARPER, FLATTER = say("sharper"), say("flatter")
ASKING_CHECK = say("Looking at what the instrument checks say.")

ABOUT_HABIT_PAGES = {
    HABITS: say(
        "Where each note of the instrument usually lies, over the last twelve weeks that you "
        "played. The mark is the usual place; the heavy line beside it holds the truth in nine "
        "cases of ten; of ten single notes eight lie within the thin line. Notes corrected by eye, "
        "careful notes of a check and squeaks do not count."
    ),
    HABIT_NOTE: say(
        "One note: where it usually lies, how it changed from week to week, what its pitch goes "
        "with, and, after an instrument check, whose it is. Only differences that are both sure "
        "and large enough to hear are put into sentences."
    ),
}
