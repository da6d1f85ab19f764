"""The names of keys as a player writes and reads them, and as Textual has them."""

import string
import unicodedata

from textual.keys import KEY_NAME_REPLACEMENTS

from intonation.errors import SettingsError
from intonation.language import name_in_words, say
from intonation.toml_text import nearest_word

_SHOWN = {
    "up": "↑",
    "down": "↓",
    "left": "←",
    "right": "→",
    "escape": say("Esc"),
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "minus": "−",
    "plus": "+",
    "question_mark": "?",
    "equals_sign": "=",
}
_NAMED = (
    *("space", "enter", "escape", "tab", "backspace", "delete", "insert", "home", "end"),
    *("up", "down", "left", "right", "pageup", "pagedown"),
    *(f"f{number}" for number in range(1, 25)),
)
_MODIFIERS = ("ctrl", "shift")


def key_named(word: str) -> str:
    """Return Textual's name of a key that a player has written.

    A letter, a digit or a sign stands for itself (a capital letter for shift and the letter);
    other keys have names such as ``"space"``, ``"pagedown"``, ``"f5"`` or ``"ctrl+t"``.

    Raises
    ------
    SettingsError
        If there is no such key; the sentence names the nearest.
    """
    *before, last = word.split("+") if len(word) > 1 else (word,)
    modifiers = [each.lower() for each in before]
    name = _plain_name(last)
    if name is None or not set(modifiers) <= set(_MODIFIERS):
        raise SettingsError(
            say('there is no key "{word}".', word=word), nearest_word(word.lower(), _words())
        )
    return "+".join((*modifiers, name))


def shown_keys(keys: tuple[str, ...]) -> str:
    """Return keys as a player reads them, for example ``"Space, PgDn"``."""
    return ", ".join(map(_shown, keys))


def _shown(key: str) -> str:
    return "+".join(_SHOWN.get(part) or name_in_words(_capital(part)) for part in key.split("+"))


def _capital(part: str) -> str:
    return part.upper() if len(part) == 1 else part[0].upper() + part[1:].replace("_", " ")


def _plain_name(word: str) -> str | None:
    if len(word) == 1:
        return word if word.isalnum() else _name_of_sign(word)
    lower = word.lower()
    return lower if lower in _NAMED or lower in _signs() else None


def _name_of_sign(sign: str) -> str:
    name = unicodedata.name(sign, "").lower().replace("-", "_").replace(" ", "_")
    return KEY_NAME_REPLACEMENTS.get(name, name)


def _signs() -> set[str]:
    return {_name_of_sign(sign) for sign in string.punctuation}


def _words() -> tuple[str, ...]:
    return (*_NAMED, *sorted(_signs()), "ctrl+a")
