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
from intonation.language import name_in_words, say, say_many
from intonation.pitch.notes import note_name
from intonation.words.numbers import cents_word, sharp_or_flat
from intonation.words.targets import tuning_in_words

NOTHING_PLAYED = say(
    "Nothing of this phrase was heard. Play it with the backing, at your own ease."
)
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
        tuned = say(
            "{note} in {tuning}", note=note_name(target.midi), tuning=tuning_in_words(target.tuning)
        )
        return f"{tuned}, {place}" if place else tuned
    if target.interval in ("unison", "octave") or target.member == "root":
        return say("the {place}", place=place)
    return say("the pure {place}", place=place)


def _place_in_words(target: MelodyTarget) -> str:
    if target.chord is not None:
        if target.member is None:
            return f"{name_in_words(OUTSIDE_THE_CHORD)} {target.chord}"
        return say("{member} of {chord}", member=name_in_words(target.member), chord=target.chord)
    if target.interval is None or target.over_midi is None:
        return ""
    side = say("under") if target.midi < target.over_midi else say("over")
    bass = say("drone") if target.origin == "drone" else say("reference note")
    if target.interval == "unison":
        return say("unison with the {bass} {note}", bass=bass, note=note_name(target.over_midi))
    return say(
        "{interval} {side} the {bass} {note}",
        interval=name_in_words(target.interval),
        side=side,
        bass=bass,
        note=note_name(target.over_midi),
    )


def melody_note_line(score: MelodyNoteScore) -> str:
    """Return one note of a melody: its name, its cents, and what it should have been."""
    name = note_name(score.note.target.midi)
    target = melody_target_in_words(score.note.target)
    if score.cents is None:
        return say("{name} was not heard ({target})", name=name, target=target)
    return f"{name} {sharp_or_flat(score.cents)} ({target})"


def place_line(place: PlaceSummary) -> str:
    """Return how all notes at one place of their chords lay, for example all thirds."""
    where = {ALONE: say("without a chord"), OUTSIDE_THE_CHORD: name_in_words(OUTSIDE_THE_CHORD)}
    named = where.get(place.place, say("as {place}", place=name_in_words(place.place)))
    return say_many(
        "{count} note {named}: {mean_cents} on average",
        "{count} notes {named}: {mean_cents} on average",
        count=place.count,
        named=named,
        mean_cents=sharp_or_flat(place.mean_cents),
    )


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
    heard = say(
        "{played} of {notes} notes heard, within {width}",
        played=played,
        notes=len(score.notes),
        width=cents_word(width),
    )
    window = cents_word(IN_TUNE_WINDOW_CENTS)
    if width <= IN_TUNE_WINDOW_CENTS:
        return say("{heard}: inside the window of {window}.", heard=heard, window=window)
    return say("{heard}: wider than the window of {window}.", heard=heard, window=window)


def _next(score: MelodyScore) -> str:
    """Return what to do next: the worst note if one pulled, else the place that leans most."""
    if score.pulled:
        worst = score.pulled[0]
        side = say("sharp") if (worst.cents or 0.0) > 0 else say("flat")
        name = note_name(worst.note.target.midi)
        return say(
            "Next: stay on {name}, which was {side}, until the chord rests; then the phrase.",
            name=name,
            side=side,
        )
    leaning = score.places[0]
    if abs(leaning.mean_cents) > EXCELLENT_CENTS:
        side = say("lower") if leaning.mean_cents > 0 else say("higher")
        return say(
            "Next: the phrase again, with every {place} a little {side}.",
            place=name_in_words(leaning.place),
            side=side,
        )
    return say("Next: the phrase again without the melody in your ear, or the next phrase.")
