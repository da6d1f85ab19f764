"""The keys that sentences name: the usual ones, or the player's own in their place."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from intonation.app.keys import Key
    from intonation.app.own_keys import OwnKeys

_BEFORE_A_VERB = r"(?= [a-zß-ÿ])"
"""A letter alone may be a note or an article; one that does something is a key."""


def with_own_names(sentence: str, keys: Iterable[Key], own: OwnKeys) -> str:
    """Return a sentence with a player's own key wherever it names a usual one that was changed.

    Parameters
    ----------
    sentence
        Names keys as they are usually shown, for example ``"Space starts the drone."``.
    keys
        The keys, as they usually are, that the sentence may name; of two that are shown alike it
        means the first.
    own
        What the player has changed.
    """
    from intonation.app.key_names import shown_keys

    meant: dict[str, Key] = {}
    for key in keys:
        meant.setdefault(key.shown, key)
    renamed = {
        shown: shown_keys(own[key.name][:1]) for shown, key in meant.items() if key.name in own
    }
    if not renamed:
        return sentence
    named = "|".join(map(_named, sorted(renamed, key=len, reverse=True)))
    return re.sub(named, lambda found: renamed[found.group()], sentence)


def _named(shown: str) -> str:
    """Return where a key is meant by its name."""
    name = re.escape(shown)
    if len(shown) > 1 or shown in "←→↑↓":
        return rf"(?<!\w){name}(?!\w)"
    return rf"(?<!\w){name}{_BEFORE_A_VERB}|(?<=\(){name}(?=\))|^{name}$"
