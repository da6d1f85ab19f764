"""Labels and explanations of the fingering chart and the workshop."""

from intonation.language import say

FINGERINGS, WORKSHOP, PREDICTION, TRIALS = (
    say("Fingerings"),
    say("Workshop"),
    say("What it would do"),
    say("Trials"),
)

EXAMINING = say("Working out what the notes say. This takes a while; Esc goes back.")
NO_RECORD = say("No practice record is at hand, so there is nothing to work from.")
WHAT_COULD_BE_TRIED = say("What could be tried, reversible work first")
HOW_THE_NOTES_LIE = say("How its notes lie")
CAUTIONS_BENEATH = say("Cautions for this very work stand beneath the notes.")
NOTE_OF_TRIAL = say("A word of your own, such as the paper used; Enter keeps the trial")
NEXT_CHECK = say("Next: C plays the instrument check.")
NEXT_CHECK_AFTER_WORK = say("Next: C plays the check again, with the work as it is now.")
NEXT_MARK = say("Next: Enter shows what the marked work would do. Nothing is touched yet.")
NEXT_PROOF = say("Next: T shows what the trial did to every note.")
NEXT_SHEET = say("Next: S writes the sheet for a maker; there is nothing to try here.")
NEXT_WORK = say("Next: do the work, then say so with Enter. Esc leaves everything as it is.")
NEXT_SIMULATED_WORK = say("Next: Enter does it on the simulated alto. Esc leaves it as it is.")
NEXT_KEEP_OR_UNDO = say(
    "Next: leave it, or undo it and say so with U. C plays the check once more."
)
NEXT_OTHER_WORK = say("Next: Esc leads back to the workshop, with other work to try.")
LEARN = say(
    "L lets you learn this on a simulated alto with two faults: an invented player plays the "
    "check in a minute or so, and nothing can be spoilt."
)
LEARNING = say("The simulated alto with two faults. L leads back to your own instrument.")
NAME_DIMENSIONS = say("Path of a geometry file (TOML), or nothing for the usual dimensions")
OWN_DIMENSIONS = say("own dimensions")
NO_TRIAL_YET = say(
    "Nothing was tried yet. Choose some work in the workshop, do it, and say so there."
)
MORE_KEYS = say(
    "S writes the sheet for the maker, P a report of the instrument. G finds the common pitch of "
    "several instruments."
)
ALSO = say("Other fingerings, and how they differ from the usual one:")

ABOUT_WORKSHOP_PAGES = {
    FINGERINGS: say(
        "The usual fingering of every note. Beneath, for the marked note, other fingerings with "
        "the cents that they are expected to differ, other systems, and who published them. The "
        "arrows to the sides show the whole chart in another system."
    ),
    WORKSHOP: say(
        "What is wrong with the instrument, worked out from its held notes, and what could be "
        "tried. Mark some work to see what it would do to every note before you touch anything."
    ),
    PREDICTION: say(
        "Every note as it is and as it is predicted to be. If you do the work, say so here, then "
        "measure the same notes again: the trials page shows what it did."
    ),
    TRIALS: say(
        "Every trial with its date. Of the marked one: side effects first, then what changed, "
        "what did not, and what cannot be told, beside the prediction."
    ),
}
