"""The workshop in words: causes, work, predictions, and what a trial did."""

from collections.abc import Iterable, Sequence

from intonation.acoustics.alterations import Alteration
from intonation.acoustics.geometry import Geometry
from intonation.diagnosis.overall import BREATH_WINDOW_CENTS
from intonation.diagnosis.parts import Interval
from intonation.pitch.notes import note_name
from intonation.words.diagnosis import give_or_take
from intonation.words.numbers import cents_word, rounded
from intonation.workshop.causes import RankedCause
from intonation.workshop.faults import Cause
from intonation.workshop.planning import PlannedWork, Reason
from intonation.workshop.proof import PROVEN, NoteProof, Proof
from intonation.workshop.trial import Trial
from intonation.workshop.window_change import WindowChange

TOO_FEW_NOTES = (
    "Too little is known of this instrument as it is now. Play the instrument check: hold every "
    "note without a reference, then again with exact fingers, swelling from soft to loud."
)
NOT_TOLD_APART = (
    "Overall pitch, and what slopes evenly with pitch, cannot be told from general breath, warmth "
    "and the head joint."
)
NO_WORK = "Nothing needs to be done: the notes lie within what breath can cover."
NOT_WITHIN_REACH = (
    "No reversible work brings all notes within what breath can cover. Show a qualified maker the "
    "sheet: S in the workshop, or `intonation sheet`."
)
NOTHING_TO_COMPARE = (
    "Nothing to compare yet. Leave the microphone where it is, warm up, and play the same notes "
    "as before the trial; three at least, better all."
)

NO_WINDOW = (
    "Whether the window became narrower cannot be told: hold at least five notes on both sides."
)

_FINGERS = {"0": "thumb hole", "6b": "smaller hole of the pair 6", "7b": "smaller hole of pair 7"}


def hole_in_words(hole: str | None) -> str:
    """Return a hole as a player names it: ``"hole 4"``, ``"thumb hole"``, ``"holes 6"``."""
    if hole in _FINGERS:
        return _FINGERS[hole]
    if hole is not None and hole.endswith("a"):
        return f"larger hole of the pair {hole[0]}"
    return f"pair of holes {hole}" if hole in ("6", "7") else f"hole {hole}"


def cause_in_words(cause: Cause, size_cents: float) -> str:
    """Return a fault with its direction, for example ``"hole 4 too small"``."""
    high = size_cents > 0.0
    hole = hole_in_words(cause.hole)
    stretch = f"bore from {cause.from_mm:.0f} to {cause.to_mm:.0f} mm below the window"
    return {
        "hole size": f"{hole} too {'large' if high else 'small'}",
        "hole place": f"{hole} too {'near the window' if high else 'far down'}",
        "leak": f"a leak at {hole if hole.startswith('hole') else f'the {hole}'}",
        "bore": f"{stretch} too {'wide' if high else 'narrow'}",
        "octaves": f"octaves too {'wide' if high else 'narrow'}",
        "head joint": f"head joint {'pushed in too far' if high else 'pulled out too far'}",
        "none": "no fault of the instrument",
    }[cause.kind]


def probability_in_words(probability: float) -> str:
    """Return a probability that never claims certainty: ``"83 %"``."""
    return f"{min(99, max(1, round(100 * probability)))} %"


def cause_line(entry: RankedCause) -> str:
    """Return a ranked cause with its probability and size."""
    named = cause_in_words(entry.cause, entry.size_cents)
    chance = probability_in_words(entry.probability)
    if entry.cause.kind == "none":
        return f"{chance}: {named}"
    half = (entry.high_cents - entry.low_cents) / 2.0
    up_to = "by" if entry.cause.kind == "octaves" else "by up to"
    return f"{chance}: {named}, {up_to} {rounded(abs(entry.size_cents))} ±{rounded(half)} cents"


def look_alikes_line(entry: RankedCause) -> str:
    """Return what cannot be told from a cause; empty if nothing."""
    if not entry.look_alikes:
        return ""
    others = " or ".join(cause_in_words(cause, entry.size_cents) for cause in entry.look_alikes[:3])
    return f"Cannot be told from {others} by these notes."


BOTH_AT_ONCE = "The first two together explain best how the notes lie."
_PROBABLY_THERE = 0.5


def beside_the_first_line(second: RankedCause) -> str:
    """Return what the second cause means beside the first: a partner, or a rival to rule out."""
    is_fault = second.cause.kind != "none"
    if is_fault and second.probability > _PROBABLY_THERE:
        return BOTH_AT_ONCE
    return tell_apart_line(second)


def tell_apart_line(entry: RankedCause) -> str:
    """Return which notes would tell a runner-up from the first cause; empty if none would."""
    notes = ", ".join(map(note_name, entry.tell_apart_midi))
    named = cause_in_words(entry.cause, entry.size_cents)
    return f"To rule out {named}: measure {notes} again." if notes else ""


def alteration_in_words(alteration: Alteration) -> str:
    """Return a piece of work as an instruction."""
    amount = f"{alteration.amount_mm:g} mm"
    hole = hole_in_words(alteration.hole)
    return {
        "pull the head joint": f"Pull the head joint by {amount}",
        "line the bore": (
            f"Line the bore with a strip {amount} thick all round, from {alteration.from_mm:.0f} "
            f"to {alteration.to_mm:.0f} mm below the window"
        ),
        "tape over part of a hole": (
            f"Tape over the upper edge of {hole} until it is as good as {amount} narrower"
        ),
        "wax in a hole": f"Press wax into {hole}: {amount} narrower",
        "clay at the window": (
            f"Lay clay along the window's sides, worth {amount} of bore: everything sinks alike"
        ),
        "enlarge a hole": f"Enlarge {hole} by {amount} in diameter",
        "undercut towards the window": f"Undercut {hole} towards the window by {amount}",
        "undercut towards the foot": f"Undercut {hole} towards the foot by {amount}",
    }[alteration.work]


def work_in_words(alterations: Iterable[Alteration]) -> str:
    """Return work that is done together, in one sentence."""
    first, *others = map(alteration_in_words, alterations)
    return "; ".join([first, *(f"{each[0].lower()}{each[1:]}" for each in others)]) + "."


def reason_in_words(reason: Reason) -> str:
    """Return why some work is offered."""
    return {
        "smallest set": "the smallest reversible set that brings the notes together",
        "asked for": "as you asked",
        "all causes": "for all likely causes together",
        "hole size": "for the hole's size",
        "hole place": "for the hole's place",
        "octaves": "for the octaves",
        "bore": "for the bore",
        "head joint": "for the head joint",
    }.get(reason, reason)


def model_in_words(geometry: Geometry) -> str:
    """Return whose dimensions the model took, and how far to believe it."""
    invented = "invented" in geometry.source
    whose = "an invented instrument" if invented else f"{geometry.name} ({geometry.source})"
    return (
        f"Probabilities and predictions are estimates of a model with the dimensions of {whose}; "
        "believe the proof, not the prediction."
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
    verdict = "which breath can cover" if after <= BREATH_WINDOW_CENTS else "still too wide"
    before = cents_word(work.before_window_cents)
    return f"The notes lie within {before} now; predicted {cents_word(after)}, {verdict}."


def side_effects_in_words(work: PlannedWork) -> str:
    """Return which notes are predicted to end worse than they are; empty if none."""
    worst = ", ".join(note_name(midi) for midi in work.side_effects_midi[:5])
    return f"Side effects: {worst} would end further from the middle than now." if worst else ""


def kept_or_cut(work: PlannedWork) -> str:
    """Return whether work can be undone."""
    return "can be undone" if work.reversible else "CANNOT be undone: for a qualified maker"


def trial_line(trial: Trial) -> str:
    """Return a trial with its number, date, work and state."""
    date = trial.made_at.astimezone().strftime("%Y-%m-%d %H:%M")
    line = f"{trial.number}  {date}  {trial.instrument}: {work_in_words(trial.alterations)}"
    if trial.note:
        line = f"{line} “{trial.note}”"
    if trial.undone_at is not None:
        undone = trial.undone_at.astimezone().strftime("%Y-%m-%d %H:%M")
        why = f" “{trial.undo_note}”" if trial.undo_note else ""
        line = f"{line} Undone {undone}.{why}"
    return line


def proof_in_words(proof: Proof) -> tuple[str, ...]:
    """Return what a trial did, side effects first."""
    if not proof.notes:
        return (NOTHING_TO_COMPARE,)
    return (
        _side_effects_found(proof.side_effects),
        window_change_in_words(proof.window),
        strength_in_words(proof.strength),
        _counted(proof.notes),
        _as_predicted(proof.notes),
    )


def window_change_in_words(window: WindowChange | None) -> str:
    """Return whether all notes together lie closer than before, with both widths."""
    if window is None:
        return NO_WINDOW
    verdict = {
        "narrower": "The window became narrower",
        "wider": "The window became WIDER",
        "cannot tell": "Whether the window became narrower cannot be told yet",
    }[window.verdict]
    before, after = (_width(side) for side in (window.before, window.after))
    return (
        f"{verdict}: the {window.notes} notes that were held on both sides lay within {before} "
        f"before, and within {after} after."
    )


def _width(width: Interval) -> str:
    return f"{cents_word(width.mean)} ({rounded(width.low)} to {rounded(width.high)})"


def strength_in_words(strength: Interval | None) -> str:
    """Return whether all notes together moved as the prediction says."""
    if strength is None:
        return "The prediction moves all notes alike, which a day's pitch can do too: no proof."
    share = (
        f"all notes together moved {rounded(strength.mean, 1)} times as far as predicted "
        f"({rounded(strength.low, 1)} to {rounded(strength.high, 1)})"
    )
    if strength.low > PROVEN:
        return f"Proven: {share}."
    if strength.high < PROVEN:
        return f"It did not do what was predicted: {share}."
    return f"Not proven yet: {share}. Play the same notes again."


def _as_predicted(notes: Sequence[NoteProof]) -> str:
    compared = [note for note in notes if note.as_predicted is not None]
    agreeing = sum(bool(note.as_predicted) for note in compared)
    return f"{agreeing} of {len(compared)} notes lie within the error of their prediction."


def _side_effects_found(notes: Sequence[NoteProof]) -> str:
    if not notes:
        return "No side effect was found."
    named = ", ".join(
        f"{note_name(note.measured.midi)} {give_or_take(note.measured.change)}" for note in notes
    )
    return f"Side effects: {named} cents, which was not predicted."


def _counted(notes: Sequence[NoteProof]) -> str:
    verdicts = [note.measured.verdict for note in notes]
    return (
        ", ".join(
            f"{verdicts.count(verdict)} {verdict}"
            for verdict in ("changed", "unchanged", "cannot tell")
        )
        + "; all relative to what every note did together."
    )
