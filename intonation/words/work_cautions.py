"""The cautions that belong beside each kind of work on an instrument."""

from collections.abc import Iterable

from intonation.acoustics.alterations import Alteration, Work
from intonation.language import say

BEFORE_ANY_WORK = say(
    "First rule out the cheap causes: warm the recorder up for ten to fifteen minutes, check "
    "fingers and leaks, and try another fingering."
)
LEAVE_ALONE = say(
    "Never alter a historical or valuable instrument. Work may end the warranty: ask the maker "
    "first. Voicing, windway and block are the maker's alone."
)
FIRST_CAUTIONS = (BEFORE_ANY_WORK, LEAVE_ALONE)
"""These stand before any figures, whatever the work is."""
IN_DOUBT = say("In doubt ask a qualified maker, and follow local rules for tools.")
NEAR_THE_MOUTH = say("Near the mouth use nothing but clean, food-safe material.")
IRREVERSIBLE = say(
    "This cannot be undone. Prove it first with tape or wax on the same hole. Leave it to a "
    "qualified maker; whoever cuts takes 0.05 to 0.1 mm at a time, warms up and measures again."
)
BLADES = say(
    "Blades and files: cut away from the hand and fix the instrument so that it cannot slip."
)
HEAT = say("No flame and no hot tools near wood or plastic, and no solvent on plastic.")
DRY_WOOD = say("Work on dry wood only: not within a day of playing.")

_CAUTIONS: dict[Work, tuple[str, ...]] = {
    "pull the head joint": (
        say(
            "Twist the joint gently, never force it. More than 2 mm spoils the relations between "
            "notes; a ring in the gap keeps the bore smooth."
        ),
    ),
    "line the bore": (
        say(
            "Use thin clean paper that cannot come loose into the windway, and take it out to dry "
            "after playing."
        ),
        DRY_WOOD,
    ),
    "tape over part of a hole": (
        say("Use tape that leaves no glue, on the upper edge, and only on a clean, dry surface."),
    ),
    "wax in a hole": (
        say("Press soft wax in cold, with a finger or a wooden stick: it comes out again."),
        HEAT,
    ),
    "clay at the window": (
        say("Keep clay off the labium's edge and out of the windway; never scrape there."),
        NEAR_THE_MOUTH,
    ),
    "enlarge a hole": (IRREVERSIBLE, BLADES, DRY_WOOD, HEAT),
    "undercut towards the window": (IRREVERSIBLE, BLADES, DRY_WOOD, HEAT),
    "undercut towards the foot": (IRREVERSIBLE, BLADES, DRY_WOOD, HEAT),
}


def cautions_for(alterations: Iterable[Alteration]) -> tuple[str, ...]:
    """Return the cautions for some work, each once, the general ones last."""
    own = (caution for alteration in alterations for caution in _CAUTIONS[alteration.work])
    return tuple(dict.fromkeys((*own, LEAVE_ALONE, IN_DOUBT)))
