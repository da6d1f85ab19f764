"""A temperament of the player's own, from a small TOML file."""

import re
from fractions import Fraction
from typing import Any

from intonation.language import say
from intonation.pitch.fifths import (
    FIFTHS,
    PYTHAGOREAN_COMMA_CENTS,
    SYNTONIC_COMMA_CENTS,
    cents_of_circle,
)
from intonation.pitch.notes import PITCH_CLASSES
from intonation.pitch.temperaments import TEMPERAMENTS, Temperament
from intonation.toml_text import TomlText, nearest_word, parse_toml

COMMAS_CENTS = {"pythagorean": PYTHAGOREAN_COMMA_CENTS, "syntonic": SYNTONIC_COMMA_CENTS}
TEXTS = ("name", "title", "definition", "source")
TABLES = ("fifths", "cents_from_c", "cents_from_equal")
_EXAMPLE = say("docs/how-it-works/temperaments.md shows a whole file.")
_WIDEST_CENTS = 100.0
_FRACTION = re.compile(r"-?\d{1,3}(\.\d{1,9}|/[1-9]\d{0,3})?", re.ASCII)


def parse_temperament(text: str, *, file_name: str) -> Temperament:
    """Return the temperament that a TOML text describes.

    Parameters
    ----------
    text
        Content of the file: ``name``, and exactly one of the tables ``[fifths]`` (narrowing as a
        fraction of ``comma``), ``[cents_from_c]`` or ``[cents_from_equal]``.
    file_name
        Its name, for the sentences about mistakes.

    Raises
    ------
    DataFileError
        If something is missing, unknown or out of range; the sentence names the line.
    """
    source = parse_toml(text, file_name=file_name, what_to_do=_EXAMPLE)
    _check_keys(source)
    texts = {key: _text(source, key) for key in TEXTS}
    kinds = [kind for kind in TABLES if kind in source.table]
    if len(kinds) != 1:
        found = " and ".join(f"[{kind}]" for kind in kinds) or "none"
        raise source.mistake(
            None,
            say(
                "one of the tables [{tables}] is needed, found {found}.",
                tables="], [".join(TABLES),
                found=found,
            ),
            _EXAMPLE,
        )
    cents_from_c = _fifths(source) if kinds[0] == "fifths" else _cents(source, kinds[0])
    short = re.split(r"[/\\]", file_name)[-1]
    name = " ".join(texts["name"].split()) or short.removesuffix(".toml")
    _check_name(source, name)
    return Temperament(
        name=name,
        title=texts["title"] or name,
        cents_from_c=cents_from_c,
        definition=texts["definition"] or say("As {short} gives it.", short=short),
        source=texts["source"] or short,
    )


def _check_name(source: TomlText, name: str) -> None:
    """Refuse the name of a temperament that ships: notes are kept under it."""
    if name == "pure" or name in TEMPERAMENTS:
        raise source.mistake(
            source.line_of("name"),
            say('"{name}" is the name of another tuning.', name=name),
            say('Write name = "…".'),
        )


def _check_keys(source: TomlText) -> None:
    known = (*TEXTS, "comma", *TABLES)
    for key in source.table:
        if key not in known:
            raise source.mistake(
                source.line_of(key),
                say('"{key}" is not a word of this file.', key=key),
                nearest_word(key, known),
            )


def _text(source: TomlText, key: str) -> str:
    value = source.table.get(key, "")
    if not isinstance(value, str):
        raise source.mistake(
            source.line_of(key), say("{key} must be words in quotes.", key=key), _EXAMPLE
        )
    return value


def _table(source: TomlText, kind: str, known: tuple[str, ...]) -> dict[str, Any]:
    table = source.table[kind]
    if not isinstance(table, dict):
        raise source.mistake(
            source.line_of(kind), say("{kind} must be a table, [{kind}].", kind=kind), _EXAMPLE
        )
    for key in table:
        if key not in known:
            line = source.line_of(key, header=kind)
            raise source.mistake(
                line, say('[{kind}] has no "{key}".', kind=kind, key=key), nearest_word(key, known)
            )
    return table


def _fifths(source: TomlText) -> tuple[float, ...]:
    comma = source.table.get("comma", "pythagorean")
    if not isinstance(comma, str) or comma not in COMMAS_CENTS:
        raise source.mistake(
            source.line_of("comma"),
            say("comma cannot be {comma!r}.", comma=comma),
            nearest_word(str(comma), COMMAS_CENTS),
        )
    listed = _table(source, "fifths", FIFTHS[:-1])
    narrowing = {
        fifth: COMMAS_CENTS[comma] * float(_fraction(source, fifth, value))
        for fifth, value in listed.items()
    }
    return cents_of_circle(narrowing)


def _fraction(source: TomlText, fifth: str, value: object) -> Fraction:
    usable = _FRACTION.fullmatch(str(value)) is not None
    if not usable or not -4 <= Fraction(str(value)) <= 4:
        raise source.mistake(
            source.line_of(fifth, header="fifths"),
            say("{fifth} cannot be narrow by {value!r} of a comma.", fifth=fifth, value=value),
            say('Write a fraction in quotes, for example "1/6"; a wide fifth is "-1/12".'),
        )
    return Fraction(str(value))


def _cents(source: TomlText, kind: str) -> tuple[float, ...]:
    listed = _table(source, kind, PITCH_CLASSES)
    for name in PITCH_CLASSES:
        if name not in listed:
            line = source.line_of("", header=kind)
            raise source.mistake(
                line,
                say("[{kind}] lacks {name}.", kind=kind, name=name),
                say("Give all twelve notes."),
            )
    values = [_number(source, kind, name, listed[name]) for name in PITCH_CLASSES]
    offset = 0.0 if kind == "cents_from_c" else 100.0
    above_c = [value + offset * pc for pc, value in enumerate(values)]
    return tuple(cents - above_c[0] for cents in above_c)


def _number(source: TomlText, kind: str, name: str, value: object) -> float:
    equal = 100.0 * PITCH_CLASSES.index(name) if kind == "cents_from_c" else 0.0
    usable = isinstance(value, int | float) and not isinstance(value, bool)
    if not usable or not abs(float(value) - equal) <= _WIDEST_CENTS:  # type: ignore[arg-type]
        raise source.mistake(
            source.line_of(name, header=kind),
            say(
                "{name} = {value!r} is not within {widest_cents:.0f} cents of its equal place.",
                name=name,
                value=value,
                widest_cents=_WIDEST_CENTS,
            ),
            say("Give a number of cents near {equal:g}.", equal=equal),
        )
    return float(value)  # type: ignore[arg-type]
