"""What is wrong with an instrument, in words: its causes and how sure they are."""

from collections.abc import Sequence

from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, rounded
from intonation.workshop.causes import RankedCause
from intonation.workshop.faults import Cause

NOT_TOLD_APART = say(
    "Overall pitch, and what slopes evenly with pitch, cannot be told from general breath, warmth "
    "and the head joint."
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


def _has_a_number_only(hole: str | None) -> bool:
    return hole not in (*_FINGERS, "6", "6a", "7", "7a")


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
        "leak": (
            say("a leak at {hole}", hole=hole)
            if _has_a_number_only(cause.hole)
            else say("a leak at the {hole}", hole=hole)
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
