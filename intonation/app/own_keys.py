"""A player's own keys: read from a file that says only what is to be different."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from intonation.app.key_names import key_named, shown_keys
from intonation.app.key_table import PAGE_KEYS, keys_by_table, place_of
from intonation.app.keys import EVERYWHERE, HELP, Key
from intonation.errors import DataFileError, IntonationError
from intonation.language import say
from intonation.toml_text import TomlText, nearest_word, parse_toml

OwnKeys = Mapping[str, tuple[str, ...]]
"""Textual's names of keys by the unique name of what they do."""

_MEND = say("Mend the file or delete it.")


@dataclass(frozen=True, slots=True)
class KeysRead:
    """The keys that can be used, and everything that was wrong with the file."""

    keys: OwnKeys = field(default_factory=dict)
    complaints: tuple[IntonationError, ...] = ()


def with_own(keys: Iterable[Key], own: OwnKeys) -> tuple[Key, ...]:
    """Return keys as the player has them."""
    return tuple(_with_own(key, own[key.name]) if key.name in own else key for key in keys)


def read_own_keys(path: Path) -> KeysRead:
    """Return the keys of a file; none where it is missing, and none of a line that is wrong.

    Every mistake is one sentence with file and line. The file is never changed.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        return KeysRead()
    except UnicodeDecodeError:
        return _none(say("{path} is not a text in UTF-8.", path=path))
    except OSError as cause:
        return _none(say("{path} cannot be read ({strerror}).", path=path, strerror=cause.strerror))
    return own_keys_in(text, file_name=str(path))


def own_keys_in(text: str, *, file_name: str) -> KeysRead:
    """Return the keys that a text says, and what is wrong with it."""
    try:
        toml = parse_toml(text, file_name=file_name, what_to_do=_MEND)
    except DataFileError as mistake:
        return _none(mistake.sentence)
    own: dict[str, tuple[str, ...]] = {}
    complaints: list[IntonationError] = []
    for table, entries in toml.table.items():
        try:
            known = _known_names(toml, table, entries)
        except DataFileError as mistake:
            complaints.append(mistake)
            continue
        for name, value in entries.items():
            try:
                own[_key(toml, table, name, known).name] = _keys(toml, table, name, value)
            except DataFileError as mistake:
                complaints.append(mistake)
    return _without_clashes(toml, own, complaints)


def _none(sentence: str) -> KeysRead:
    return KeysRead({}, (DataFileError(sentence, _MEND),))


def _with_own(key: Key, keys: tuple[str, ...]) -> Key:
    return replace(key, keys=keys, shown=shown_keys(keys), shown_with_pair=None)


def _known_names(toml: TomlText, table: str, entries: Any) -> Mapping[str, Key]:
    tables = keys_by_table()
    if table not in tables:
        line = toml.line_of("", header=table) or toml.line_of(table)
        raise toml.mistake(
            line, say("there is no page [{table}].", table=table), nearest_word(table, tables)
        )
    if not isinstance(entries, dict):
        raise toml.mistake(
            toml.line_of(table),
            say("{table} is not a table.", table=table),
            say("Write [{table}].", table=table),
        )
    return tables[table]


def _key(toml: TomlText, table: str, name: str, known: Mapping[str, Key]) -> Key:
    if name not in known:
        line = toml.line_of(name, header=table)
        raise toml.mistake(
            line,
            say('[{table}] has no "{name}".', table=table, name=name),
            nearest_word(name, known),
        )
    return known[name]


def _keys(toml: TomlText, table: str, name: str, value: Any) -> tuple[str, ...]:
    words = [value] if isinstance(value, str) else value
    line = toml.line_of(name, header=table)
    if not isinstance(words, list) or not words or not all(isinstance(w, str) for w in words):
        raise toml.mistake(
            line,
            say("{name} is no key.", name=name),
            say('Write {name} = "f5" or {name} = ["f5", "r"].', name=name),
        )
    try:
        return tuple(dict.fromkeys(map(key_named, words)))
    except IntonationError as mistake:
        raise toml.mistake(line, mistake.sentence, mistake.what_to_do) from None


def _without_clashes(
    toml: TomlText, own: dict[str, tuple[str, ...]], complaints: list[IntonationError]
) -> KeysRead:
    """Leave out every entry that would make one key do two things on one page."""
    while (clash := _first_clash(own)) is not None:
        changed, other, key = clash
        del own[changed.name]
        table, name = place_of(changed)
        in_the_way = ".".join(place_of(other))
        complaints.append(
            toml.mistake(
                toml.line_of(name, header=table),
                say(
                    '"{key}" already does something else there: {in_the_way}.',
                    key=shown_keys((key,)),
                    in_the_way=in_the_way,
                ),
                say(
                    "Give {name} another key, or change {in_the_way} too.",
                    name=name,
                    in_the_way=in_the_way,
                ),
            )
        )
    return KeysRead(own, tuple(complaints))


def _first_clash(own: OwnKeys) -> tuple[Key, Key, str] | None:
    for page in PAGE_KEYS:
        common = EVERYWHERE if page is not HELP else EVERYWHERE[1:]
        doing: dict[str, Key] = {}
        for key in with_own((*page, *common), own):
            for pressed in key.keys:
                other = doing.setdefault(pressed, key)
                if other is not key:
                    changed = key if key.name in own else other
                    return changed, other if changed is key else key, pressed
    return None
