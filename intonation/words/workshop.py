"""The workshop in words: work, why it is offered, and what it is predicted to do."""

from collections.abc import Iterable, Sequence

from intonation.acoustics.alterations import Alteration
from intonation.acoustics.geometry import Geometry
from intonation.diagnosis.overall import BREATH_WINDOW_CENTS
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.words.causes import hole_in_words
from intonation.words.numbers import cents_word, rounded
from intonation.workshop.getting_by import GettingBy
from intonation.workshop.planning import PlannedWork, Reason

TOO_FEW_NOTES = say(
    "Too little is known of this instrument as it is now. Play the instrument check: hold every "
    "note without a reference, then again with exact fingers, swelling from soft to loud."
)
NO_WORK = say("Nothing needs to be done: the notes lie within what breath can cover.")
NOT_WITHIN_REACH = say(
    "No reversible work brings all notes within what breath can cover. Show a qualified maker the "
    "sheet: S in the workshop, or `intonation sheet`."
)


def alteration_in_words(alteration: Alteration) -> str:
    """Return a piece of work as an instruction."""
    amount = say("{amount_mm:g} mm", amount_mm=alteration.amount_mm)
    hole = hole_in_words(alteration.hole)
    return {
        "pull the head joint": say("Pull the head joint by {amount}", amount=amount),
        "line the bore": say(
            "Line the bore with a strip {amount} thick all round, from {from_mm:.0f} to "
            "{to_mm:.0f} mm below the window",
            amount=amount,
            from_mm=alteration.from_mm,
            to_mm=alteration.to_mm,
        ),
        "tape over part of a hole": say(
            "Tape over the upper edge of {hole} until it is as good as {amount} narrower",
            hole=hole,
            amount=amount,
        ),
        "wax in a hole": say("Press wax into {hole}: {amount} narrower", hole=hole, amount=amount),
        "clay at the window": say(
            "Lay clay along the window's sides, worth {amount} of bore: everything sinks alike",
            amount=amount,
        ),
        "enlarge a hole": say("Enlarge {hole} by {amount} in diameter", hole=hole, amount=amount),
        "undercut towards the window": say(
            "Undercut {hole} towards the window by {amount}", hole=hole, amount=amount
        ),
        "undercut towards the foot": say(
            "Undercut {hole} towards the foot by {amount}", hole=hole, amount=amount
        ),
    }[alteration.work]


def work_in_words(alterations: Iterable[Alteration]) -> str:
    """Return work that is done together, in one sentence."""
    first, *others = map(alteration_in_words, alterations)
    return "; ".join([first, *(f"{each[0].lower()}{each[1:]}" for each in others)]) + "."


def reason_in_words(reason: Reason) -> str:
    """Return why some work is offered."""
    return {
        "smallest set": say("the smallest reversible set that brings the notes together"),
        "asked for": say("as you asked"),
        "all causes": say("for all likely causes together"),
        "hole size": say("for the hole's size"),
        "hole place": say("for the hole's place"),
        "octaves": say("for the octaves"),
        "bore": say("for the bore"),
        "head joint": say("for the head joint"),
    }.get(reason, reason)


def getting_by_in_words(notes: Sequence[GettingBy]) -> str:
    """Return how to play notes that only cutting would put right; empty without any."""
    if not notes:
        return ""
    return say(
        "Nothing that can be undone makes a hole larger. A player can get by: {notes}.",
        notes="; ".join(map(_one_note, notes)),
    )


def _one_note(note: GettingBy) -> str:
    name, flat = note_name(note.midi), rounded(note.flat_cents)
    if note.fingering is None:
        return say("{note} ({flat} flat) with more breath, up to 10 cents", note=name, flat=flat)
    return say(
        "{note} ({flat} flat) with {fingering}, by the model {sharper} sharper",
        note=name,
        flat=flat,
        fingering=note.fingering,
        sharper=rounded(note.sharper_cents),
    )


def model_in_words(geometry: Geometry) -> str:
    """Return whose dimensions the model took, and how far to believe it."""
    invented = "invented" in geometry.source
    whose = say("an invented instrument") if invented else f"{geometry.name} ({geometry.source})"
    return say(
        "Probabilities and predictions are estimates of a model with the dimensions of "
        "{whose}; believe the proof, not the prediction.",
        whose=whose,
    )


def reach_in_words(works: Sequence[PlannedWork]) -> str:
    """Return what is to be said about all work together; empty if some of it will do."""
    if not works:
        return NO_WORK
    reversible = (work.after_window_cents for work in works if work.reversible)
    least = min(reversible, default=BREATH_WINDOW_CENTS + 1.0)
    return NOT_WITHIN_REACH if least > BREATH_WINDOW_CENTS else ""


def window_in_words(work: PlannedWork) -> str:
    """Return what work is predicted to do to the whole compass."""
    after = work.after_window_cents
    verdict = (
        say("which breath can cover") if after <= BREATH_WINDOW_CENTS else say("still too wide")
    )
    before = cents_word(work.before_window_cents)
    return say(
        "The notes lie within {before} now; predicted {after}, {verdict}.",
        before=before,
        after=cents_word(after),
        verdict=verdict,
    )


def side_effects_in_words(work: PlannedWork) -> str:
    """Return which notes are predicted to end worse than they are; empty if none."""
    worst = ", ".join(note_name(midi) for midi in work.side_effects_midi[:5])
    return (
        say("Side effects: {worst} would end further from the middle than now.", worst=worst)
        if worst
        else ""
    )


def kept_or_cut(work: PlannedWork) -> str:
    """Return whether work can be undone."""
    return (
        say("can be undone") if work.reversible else say("CANNOT be undone: for a qualified maker")
    )
