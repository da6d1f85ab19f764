"""Exercises as a list, and one exercise as a page to read before playing it."""

import textwrap
from collections.abc import Iterable, Iterator
from itertools import groupby

from intonation.exercise.notation import chord_word, note_word
from intonation.exercise.pieces import Exercise, Phrase
from intonation.exercise.writing import interval_below
from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name
from intonation.report.cells import clock
from intonation.report.table import WIDTH, Column, table_lines

_COLUMNS = (
    Column(say("exercise"), numeric=False),
    Column(say("what it is"), numeric=False),
    Column(say("time")),
)


def exercise_list_lines(exercises: Iterable[Exercise]) -> Iterator[str]:
    """Yield a table for each kind of exercise, in the order given."""
    listed = list(exercises)
    names_wide = max((len(each.name) for each in listed), default=0)
    titles_wide = max((len(name_in_words(each.title)) for each in listed), default=0)
    for number, (kind, members) in enumerate(groupby(listed, key=lambda each: each.kind)):
        if number:
            yield ""
        yield name_in_words(kind).capitalize()
        rows = [
            (
                each.name.ljust(names_wide),
                name_in_words(each.title).ljust(titles_wide),
                clock(duration_s(each)),
            )
            for each in members
        ]
        yield from table_lines(_COLUMNS, rows)


def exercise_lines(exercise: Exercise) -> Iterator[str]:
    """Yield one exercise: what to listen for, its heading, and its phrases as written."""
    yield name_in_words(exercise.title)
    yield ""
    yield from textwrap.wrap(name_in_words(exercise.listen), WIDTH)
    yield ""
    key = f", {exercise.key}" if exercise.key else ""
    yield say(
        "{kind}{key}, {tempo:g} beats a minute, {length}, written for an instrument from {note}.",
        kind=name_in_words(exercise.kind).capitalize(),
        key=key,
        tempo=exercise.tempo,
        length=clock(duration_s(exercise)),
        note=note_name(exercise.written_from),
    )
    if exercise.order == "varied":
        yield say("The notes of each phrase come in another order every time.")
    for number, phrase in enumerate(exercise.phrases, start=1):
        yield ""
        yield from _phrase_lines(number, phrase)
    for words in (exercise.provenance, exercise.evidence):
        if words:
            yield ""
            yield from textwrap.wrap(words, WIDTH)


def duration_s(exercise: Exercise) -> float:
    """Return the length in seconds with count-in and breaths, at the exercise's own tempo."""
    return float(exercise.beats + exercise.count_in) * 60.0 / exercise.tempo


def _phrase_lines(number: int, phrase: Phrase) -> Iterator[str]:
    yield from _wrapped(f"{number:>3}  ", " ".join(map(note_word, phrase.notes)))
    if phrase.chords:
        yield from _wrapped(say("     chords "), " ".join(map(chord_word, phrase.chords)))
    if phrase.drone:
        yield say("     drone {drone}", drone=" ".join(map(note_name, phrase.drone)))
    if phrase.below is not None:
        yield say(
            "     over a reference note, {interval_below} below each note",
            interval_below=interval_below(phrase.below),
        )


def _wrapped(head: str, text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=head, subsequent_indent=" " * len(head))
