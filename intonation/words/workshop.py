"""The workshop in words: causes, work, predictions, and what a trial did."""

from collections.abc import Iterable, Sequence

from intonation.acoustics.alterations import Alteration
from intonation.acoustics.geometry import Geometry
from intonation.diagnosis.overall import BREATH_WINDOW_CENTS
from intonation.diagnosis.parts import Interval
from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name
from intonation.words.diagnosis import give_or_take
from intonation.words.numbers import cents_word, rounded
from intonation.workshop.causes import RankedCause
from intonation.workshop.faults import Cause
from intonation.workshop.getting_by import GettingBy
from intonation.workshop.planning import PlannedWork, Reason
from intonation.workshop.proof import PROVEN, NoteProof, Proof
from intonation.workshop.trial import Trial
from intonation.workshop.window_change import WindowChange

TOO_FEW_NOTES = say(
    "Too little is known of this instrument as it is now. Play the instrument check: hold every "
    "note without a reference, then again with exact fingers, swelling from soft to loud."
)
NOT_TOLD_APART = say(
    "Overall pitch, and what slopes evenly with pitch, cannot be told from general breath, warmth "
    "and the head joint."
)
NO_WORK = say("Nothing needs to be done: the notes lie within what breath can cover.")
NOT_WITHIN_REACH = say(
    "No reversible work brings all notes within what breath can cover. Show a qualified maker the "
    "sheet: S in the workshop, or `intonation sheet`."
)
NOTHING_TO_COMPARE = say(
    "Nothing to compare yet. Leave the microphone where it is, warm up, and play the same notes "
    "as before the trial; three at least, better all."
)

NO_WINDOW = say(
    "Whether the window became narrower cannot be told: hold at least five notes on both sides."
)

_FINGERS = {
    "0": say("thumb hole"),
    "6b": say("smaller hole of the pair 6"),
    "7b": say("smaller hole of pair 7"),
}


def hole_in_words(hole: str | None) -> str:
    """Return a hole as a player names it: ``"hole 4"``, ``"thumb hole"``, ``"holes 6"``."""
    if hole in _FINGERS:
        return _FINGERS[hole]
    if hole is not None and hole.endswith("a"):
        return say("larger hole of the pair {hole}", hole=hole[0])
    return (
        say("pair of holes {hole}", hole=hole)
        if hole in ("6", "7")
        else say("hole {hole}", hole=hole)
    )


def cause_in_words(cause: Cause, size_cents: float) -> str:
    """Return a fault with its direction, for example ``"hole 4 too small"``."""
    high = size_cents > 0.0
    hole = hole_in_words(cause.hole)
    stretch = say(
        "bore from {from_mm:.0f} to {to_mm:.0f} mm below the window",
        from_mm=cause.from_mm,
        to_mm=cause.to_mm,
    )
    return {
        "hole size": (
            say("{hole} too large", hole=hole) if high else say("{hole} too small", hole=hole)
        ),
        "hole place": (
            say("{hole} too near the window", hole=hole)
            if high
            else say("{hole} too far down", hole=hole)
        ),
        "leak": say(
            "a leak at {hole}",
            hole=hole if hole.startswith("hole") else say("the {hole}", hole=hole),
        ),
        "bore": (
            say("{stretch} too wide", stretch=stretch)
            if high
            else say("{stretch} too narrow", stretch=stretch)
        ),
        "octaves": (say("octaves too wide") if high else say("octaves too narrow")),
        "head joint": (
            say("head joint pushed in too far") if high else say("head joint pulled out too far")
        ),
        "none": say("no fault of the instrument"),
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
    size = f"{rounded(abs(entry.size_cents))} ±{rounded(half)}"
    if entry.cause.kind == "octaves":
        return say("{chance}: {named}, by {size} cents", chance=chance, named=named, size=size)
    return say("{chance}: {named}, by up to {size} cents", chance=chance, named=named, size=size)


def look_alikes_line(entry: RankedCause) -> str:
    """Return what cannot be told from a cause; empty if nothing."""
    if not entry.look_alikes:
        return ""
    others = say(" or ").join(
        cause_in_words(cause, entry.size_cents) for cause in entry.look_alikes[:3]
    )
    return say("Cannot be told from {others} by these notes.", others=others)


_WORTH_A_WORD_CENTS = 8.0


def octaves_line(entry: RankedCause) -> str:
    """Return what a fault of the bore does to octaves; empty if that is little."""
    if entry.cause.kind != "bore" or entry.widest_octave is None:
        return ""
    low, cents = entry.widest_octave
    if abs(cents) < _WORTH_A_WORD_CENTS:
        return ""
    octave = f"{note_name(low)}–{note_name(low + 12)}"
    if cents > 0.0:
        return say(
            "This makes octaves too wide, {octave} by {cents}.",
            octave=octave,
            cents=cents_word(cents),
        )
    return say(
        "This makes octaves too narrow, {octave} by {cents}.",
        octave=octave,
        cents=cents_word(-cents),
    )


BOTH_AT_ONCE = say("The first two together explain best how the notes lie.")
_WORTH_RULING_OUT = 0.05


def rivals_lines(ranked: Sequence[RankedCause]) -> tuple[str, ...]:
    """Return whether two faults are there at once, and what would rule out the next cause."""
    if not any(entry.beside_first for entry in ranked):
        return tuple(line for line in map(tell_apart_line, ranked[1:2]) if line)
    rivals = (entry for entry in ranked[2:3] if entry.probability >= _WORTH_RULING_OUT)
    return (BOTH_AT_ONCE, *(line for line in map(tell_apart_line, rivals) if line))


def tell_apart_line(entry: RankedCause) -> str:
    """Return which notes would tell a runner-up from the first cause; empty if none would."""
    notes = ", ".join(map(note_name, entry.tell_apart_midi))
    named = cause_in_words(entry.cause, entry.size_cents)
    return (
        say("To rule out {named}: measure {notes} again.", named=named, notes=notes)
        if notes
        else ""
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


def trial_line(trial: Trial) -> str:
    """Return a trial with its number, date, work and state."""
    date = trial.made_at.astimezone().strftime("%Y-%m-%d %H:%M")
    line = f"{trial.number}  {date}  {trial.instrument}: {work_in_words(trial.alterations)}"
    if trial.note:
        line = f"{line} “{trial.note}”"
    if trial.undone_at is not None:
        undone = trial.undone_at.astimezone().strftime("%Y-%m-%d %H:%M")
        why = f" “{trial.undo_note}”" if trial.undo_note else ""
        line = say("{line} Undone {undone}.{why}", line=line, undone=undone, why=why)
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
        "narrower": say("The window became narrower"),
        "wider": say("The window became WIDER"),
        "cannot tell": say("Whether the window became narrower cannot be told yet"),
    }[window.verdict]
    before, after = (_width(side) for side in (window.before, window.after))
    return say(
        "{verdict}: the {notes} notes that were held on both sides lay within {before} "
        "before, and within {after} after.",
        verdict=verdict,
        notes=window.notes,
        before=before,
        after=after,
    )


def _width(width: Interval) -> str:
    return say(
        "{mean} ({low} to {high})",
        mean=cents_word(width.mean),
        low=rounded(width.low),
        high=rounded(width.high),
    )


def strength_in_words(strength: Interval | None) -> str:
    """Return whether all notes together moved as the prediction says."""
    if strength is None:
        return say(
            "The prediction moves all notes alike, which a day's pitch can do too: no proof."
        )
    share = say(
        "all notes together moved {mean} times as far as predicted ({low} to {high})",
        mean=rounded(strength.mean, 1),
        low=rounded(strength.low, 1),
        high=rounded(strength.high, 1),
    )
    if strength.low > PROVEN:
        return say("Proven: {share}.", share=share)
    if strength.high < PROVEN:
        return say("It did not do what was predicted: {share}.", share=share)
    return say("Not proven yet: {share}. Play the same notes again.", share=share)


def _as_predicted(notes: Sequence[NoteProof]) -> str:
    compared = [note for note in notes if note.as_predicted is not None]
    agreeing = sum(bool(note.as_predicted) for note in compared)
    return say(
        "{agreeing} of {compared} notes lie within the error of their prediction.",
        agreeing=agreeing,
        compared=len(compared),
    )


def _side_effects_found(notes: Sequence[NoteProof]) -> str:
    if not notes:
        return say("No side effect was found.")
    named = ", ".join(
        f"{note_name(note.measured.midi)} {give_or_take(note.measured.change)}" for note in notes
    )
    return say("Side effects: {named} cents, which was not predicted.", named=named)


def _counted(notes: Sequence[NoteProof]) -> str:
    verdicts = [note.measured.verdict for note in notes]
    return ", ".join(
        f"{verdicts.count(verdict)} {name_in_words(verdict)}"
        for verdict in ("changed", "unchanged", "cannot tell")
    ) + say("; all relative to what every note did together.")
