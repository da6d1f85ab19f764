"""A melody after it was played, in words: which notes pulled, and where in the chord they stood."""

from intonation.assessment.bands import EXCELLENT_CENTS, IN_TUNE_WINDOW_CENTS
from intonation.assessment.melody import (
    ALONE,
    OUTSIDE_THE_CHORD,
    MelodyNoteScore,
    MelodyScore,
    PlaceSummary,
)
from intonation.exercise.score import MelodyTarget
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, sharp_or_flat
from intonation.words.targets import tuning_in_words

NOTHING_PLAYED = "Nothing of this phrase was heard. Play it with the backing, at your own ease."
MOST_LISTED = 5


def melody_target_in_words(target: MelodyTarget) -> str:
    """Return what a note should have been and why.

    Examples
    --------
    ``"the pure third of F"``, ``"the pure fifth over the drone F3"``, ``"G5 in Vallotti, outside
    the chord Edim"``.
    """
    place = _place_in_words(target)
    if target.origin == "temperament":
        tuned = f"{note_name(target.midi)} in {tuning_in_words(target.tuning)}"
        return f"{tuned}, {place}" if place else tuned
    pure = "" if target.interval in ("unison", "octave") or target.member == "root" else "pure "
    return f"the {pure}{place}"


def _place_in_words(target: MelodyTarget) -> str:
    if target.chord is not None:
        if target.member is None:
            return f"{OUTSIDE_THE_CHORD} {target.chord}"
        return f"{target.member} of {target.chord}"
    if target.interval is None or target.over_midi is None:
        return ""
    side = "under" if target.midi < target.over_midi else "over"
    bass = "drone" if target.origin == "drone" else "reference note"
    if target.interval == "unison":
        return f"unison with the {bass} {note_name(target.over_midi)}"
    return f"{target.interval} {side} the {bass} {note_name(target.over_midi)}"


def melody_note_line(score: MelodyNoteScore) -> str:
    """Return one note of a melody: its name, its cents, and what it should have been."""
    name = note_name(score.note.target.midi)
    target = melody_target_in_words(score.note.target)
    if score.cents is None:
        return f"{name} was not heard ({target})"
    return f"{name} {sharp_or_flat(score.cents)} ({target})"


def place_line(place: PlaceSummary) -> str:
    """Return how all notes at one place of their chords lay, for example all thirds."""
    notes = "note" if place.count == 1 else "notes"
    where = {ALONE: "without a chord", OUTSIDE_THE_CHORD: OUTSIDE_THE_CHORD}
    named = where.get(place.place, f"as {place.place}")
    return f"{place.count} {notes} {named}: {sharp_or_flat(place.mean_cents)} on average"


def melody_lines(score: MelodyScore) -> tuple[str, ...]:
    """Return a phrase in words: the whole, the notes that pulled, the places, and what to do."""
    if score.window_cents is None:
        return (NOTHING_PLAYED,)
    pulled = score.pulled[:MOST_LISTED]
    missed = [each for each in score.notes if each.cents is None][:MOST_LISTED]
    return (
        _whole(score),
        *map(melody_note_line, pulled),
        *map(melody_note_line, missed),
        *map(place_line, score.places),
        _next(score),
    )


def _whole(score: MelodyScore) -> str:
    played = sum(each.cents is not None for each in score.notes)
    width = score.window_cents or 0.0
    heard = f"{played} of {len(score.notes)} notes heard, within {cents_word(width)}"
    window = cents_word(IN_TUNE_WINDOW_CENTS)
    if width <= IN_TUNE_WINDOW_CENTS:
        return f"{heard}: inside the window of {window}."
    return f"{heard}: wider than the window of {window}."


def _next(score: MelodyScore) -> str:
    """Return what to do next: the worst note if one pulled, else the place that leans most."""
    if score.pulled:
        worst = score.pulled[0]
        side = "sharp" if (worst.cents or 0.0) > 0 else "flat"
        name = note_name(worst.note.target.midi)
        return f"Next: stay on {name}, which was {side}, until the chord rests; then the phrase."
    leaning = score.places[0]
    if abs(leaning.mean_cents) > EXCELLENT_CENTS:
        side = "lower" if leaning.mean_cents > 0 else "higher"
        return f"Next: the phrase again, with every {leaning.place} a little {side}."
    return "Next: the phrase again without the melody in your ear, or the next phrase."
