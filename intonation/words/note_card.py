"""The card of a held note: its name, score, target, steadiness and advice, line by line."""

from intonation.assessment.bands import band
from intonation.assessment.scoring import ScoredNote
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.practice.events import NoteIgnored, NoteScored
from intonation.tracking.events import HeldNote
from intonation.words.advice import what_to_do, why
from intonation.words.listening import band_in_words
from intonation.words.numbers import cents_word, rounded, sharp_or_flat
from intonation.words.targets import target_in_words

CARD_WIDTH = 76
"""No line of a card is longer."""

_STEADY_CENTS_PER_S = 1.0


def card_lines(note: NoteScored) -> tuple[str, ...]:
    """Return the card of a note: headline, target, how it was held, what to do, and why."""
    return (
        headline(note.scored),
        say("Target: {target}.", target=target_in_words(note.scored.target)),
        held_in_words(note.scored),
        what_to_do(note.advice),
        why(note.advice),
    )


def headline(scored: ScoredNote) -> str:
    """Return note name and deviation, for example ``"A5, 8.4 cents sharp: good"``."""
    name = note_name(scored.target.midi)
    return f"{name}, {sharp_or_flat(scored.cents, 1)}: {band_in_words(band(scored.cents))}"


def held_in_words(scored: ScoredNote) -> str:
    """Return steadiness (or vibrato), drift, level and length of a held note."""
    held = scored.held
    level = say("level {level_db} dB", level_db=rounded(held.level_db))
    return (
        f"{_steadiness(held)}, {_drift(held.drift_cents_per_s)}, {level}, {held.duration_s:.1f} s."
    )


def _steadiness(held: HeldNote) -> str:
    if held.vibrato_hz is None or held.vibrato_cents is None:
        return say("Steady within {sd_cents}", sd_cents=cents_word(held.sd_cents, 1))
    return say(
        "Vibrato {vibrato_hz:.1f} Hz ±{vibrato_cents}",
        vibrato_hz=held.vibrato_hz,
        vibrato_cents=cents_word(held.vibrato_cents),
    )


def _drift(cents_per_s: float) -> str:
    if abs(cents_per_s) < _STEADY_CENTS_PER_S:
        return say("no drift")
    direction = say("rising") if cents_per_s > 0 else say("sinking")
    return say(
        "{direction} {cents_per_s} a second",
        direction=direction,
        cents_per_s=cents_word(cents_per_s, 1),
    )


def ignored_in_words(note: NoteIgnored) -> str:
    """Return why a sound was not scored."""
    return {
        "too short": say("That note was too short to score. Hold it for a second or more."),
        "outside the instrument": say(
            "That sound is no note of this instrument, so it was left out."
        ),
        "before your turn": say("Listen to the drone first: your turn comes in a moment."),
        "the drone itself": say("That was the drone. Turn it down, or wear headphones."),
    }[note.reason]
