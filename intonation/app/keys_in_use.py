"""The keys as the player has them, on pages and in sentences."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from intonation.app.keys import Key
    from intonation.app.own_keys import OwnKeys


@dataclass(frozen=True, slots=True)
class KeysInUse:
    """The usual keys, and the player's own in place of some.

    Parameters
    ----------
    own
        What the player has changed.
    """

    own: OwnKeys

    @property
    def keymap(self) -> dict[str, str]:
        """What was changed, as Textual wants it."""
        return {name: ",".join(keys) for name, keys in self.own.items()}

    def of(self, keys: tuple[Key, ...]) -> tuple[Key, ...]:
        """Return keys as the player has them."""
        if not self.own:
            return keys
        from intonation.app.own_keys import with_own

        return with_own(keys, self.own)

    def naming(self, sentence: str, keys: tuple[Key, ...]) -> str:
        """Return a sentence with the player's own keys where it names some of these, or a page."""
        if not self.own:
            return sentence
        from intonation.app.named_keys import with_own_names
        from intonation.app.practice_keys import PRACTICE

        return with_own_names(sentence, (*keys, *PRACTICE), self.own)
