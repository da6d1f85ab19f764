"""An exercise as the text of an exercise file: what reading it gives back is the same exercise."""

import json
import textwrap
from collections.abc import Iterable, Iterator
from fractions import Fraction

from intonation.exercise.exercise_file import BELOW
from intonation.exercise.notation import chord_word, note_word
from intonation.exercise.pieces import ALTO_LOWEST_MIDI, Exercise, Phrase
from intonation.pitch.notes import note_name

_WIDTH = 92
_BELOW_NAMES = {semitones: name for name, semitones in BELOW.items()}


def exercise_text(exercise: Exercise) -> str:
    """Return the TOML text of an exercise. Its name is the file's and is not written."""
    return "\n".join((*_top_lines(exercise), *_phrase_lines(exercise.phrases))) + "\n"


def interval_below(semitones: int) -> str:
    """Return the word by which a file says how far a reference note lies below."""
    return _BELOW_NAMES[semitones]


def _top_lines(exercise: Exercise) -> Iterator[str]:
    yield f"title = {_quoted(exercise.title)}"
    yield f"kind = {_quoted(exercise.kind)}"
    yield f"listen = {_block(exercise.listen.split())}"
    yield f"tempo = {exercise.tempo:.12g}"
    yield f"beats_in_bar = {exercise.beats_in_bar}"
    yield f"count_in = {exercise.count_in}"
    if exercise.order != "written":
        yield f"order = {_quoted(exercise.order)}"
    if exercise.written_from != ALTO_LOWEST_MIDI:
        yield f"written_from = {_quoted(note_name(exercise.written_from))}"
    if exercise.key:
        yield f"key = {_quoted(exercise.key)}"
    for key, words in (("provenance", exercise.provenance), ("evidence", exercise.evidence)):
        if words:
            yield f"{key} = {_block(words.split())}"


def _phrase_lines(phrases: Iterable[Phrase]) -> Iterator[str]:
    for phrase in phrases:
        yield ""
        yield "[[phrase]]"
        yield f"notes = {_block(map(note_word, phrase.notes))}"
        if phrase.chords:
            yield f"chords = {_block(map(chord_word, phrase.chords))}"
        if phrase.drone:
            yield f"drone = {_quoted(' '.join(map(note_name, phrase.drone)))}"
        if phrase.below is not None:
            yield f"below = {_quoted(interval_below(phrase.below))}"
        if phrase.breath:
            yield f"breath = {_number(phrase.breath)}"


def _number(value: Fraction) -> str:
    return f"{float(value):.9g}"


def _block(words: Iterable[str]) -> str:
    """Return words as a TOML string, over several lines where they are many."""
    text = " ".join(words)
    if len(text) <= _WIDTH - 15:
        return _quoted(text)
    lines = textwrap.wrap(text, _WIDTH, break_long_words=False, break_on_hyphens=False)
    escaped = (_quoted(line)[1:-1] for line in lines)
    return '"""\n' + "\n".join(escaped) + '"""'


def _quoted(text: str) -> str:
    """Return a TOML basic string; JSON's escapes are among TOML's, which also bars DEL."""
    usable = text.encode("utf-8", "replace").decode("utf-8")
    return json.dumps(usable, ensure_ascii=False).replace("\x7f", "\\u007f")
