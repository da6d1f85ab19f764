"""Joins the instruments of the practice record to whoever names, changes or looks for them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import TYPE_CHECKING

from intonation.errors import SettingsError
from intonation.instruments.library import INSTRUMENT_NAMES, OTHER_NAMES
from intonation.instruments.own_instrument import (
    OwnInstrument,
    checked_name,
    size_that_is_named,
    size_within,
    spaced,
)
from intonation.language import say

if TYPE_CHECKING:
    from intonation.store.own_geometries import OwnGeometries
    from intonation.store.own_instruments import OwnInstruments

_MOST_OFFERED = 3
_ALIKE = 0.5


@dataclass(frozen=True, slots=True)
class InstrumentDesk:
    """The instruments of one record.

    Parameters
    ----------
    instruments
        What is kept of them.
    geometries
        Remembers the files of their dimensions; None without any.

    Notes
    -----
    Every method may raise an `IntonationError`.
    """

    instruments: OwnInstruments
    geometries: OwnGeometries | None = None

    def own(self, player: str) -> tuple[OwnInstrument, ...]:
        """Return a player's instruments of known size, the highest first."""
        return tuple(one for one in self.instruments.of(player) if one.size is not None)

    def found(self, name: str) -> OwnInstrument:
        """Return the instrument of a name, or of that of a size; its size may be unknown.

        Raises
        ------
        SettingsError
            If there is none; the sentence offers the nearest names.
        """
        known = self.instruments.named(name) or _of_size(name)
        if known is None:
            raise unknown_instrument(name, (one.name for one in self.instruments.all()))
        return known

    def meant(self, name: str, *, size: str | None = None) -> OwnInstrument:
        """Return the instrument that is meant by a name of the record, or by that of a size.

        Parameters
        ----------
        name
            As it was typed.
        size
            Its size, for one whose size is not known.

        Raises
        ------
        SettingsError
            If there is none, with the nearest names; or if its size is not known.
        """
        known = self.found(name)
        if known.size is None and size is None:
            raise SettingsError(
                say('The size of "{name}" is not known.', name=known.name),
                say("Say which it is: press I on the practice page."),
            )
        return replace(known, size=known.size or size)

    def added(self, name: str, *, usual_size: str) -> OwnInstrument:
        """Keep another instrument and return it.

        Parameters
        ----------
        name
            Its name, which may speak of its size, as in "school alto 3".
        usual_size
            Its size if the name speaks of none.
        """
        size = size_within(name) or usual_size
        plain = checked_name(name, size=size)
        if self.instruments.named(plain) is not None:
            raise SettingsError(
                say('There is an instrument "{name}" already.', name=plain),
                say("Choose another name."),
            )
        added = OwnInstrument(name=plain, size=size)
        self.instruments.keep(added)
        return added

    def renamed(self, player: str, instrument: OwnInstrument, name: str) -> OwnInstrument:
        """Give an instrument another name; its notes and its file of dimensions go with it."""
        assert instrument.size is not None
        plain = checked_name(name, size=instrument.size)
        after = self.instruments.rename(player, instrument, plain)
        file = None if self.geometries is None else self.geometries.file_of(instrument.name)
        if self.geometries is not None and file is not None:
            self.geometries.remember(plain, file)
        return after


def unknown_instrument(
    name: str, known: Iterable[str], *, sizes: Iterable[str] = INSTRUMENT_NAMES
) -> SettingsError:
    """Return that there is no such instrument, with the nearest names that there are."""
    names = list(dict.fromkeys((*known, *sizes)))
    alike = {one.casefold(): one for one in (*names, *(OTHER_NAMES if sizes else ()))}
    wanted = spaced(name).casefold()
    within = [one for one in alike if wanted and wanted in one][:_MOST_OFFERED]
    near = within or get_close_matches(wanted, alike, n=_MOST_OFFERED, cutoff=_ALIKE)
    offered = [alike[one] for one in near] or names
    return SettingsError(
        say('There is no instrument "{name}".', name=name),
        say("Choose from: {names}.", names=", ".join(offered)),
    )


def _of_size(name: str) -> OwnInstrument | None:
    size = size_that_is_named(name)
    return None if size is None else OwnInstrument(name=size, size=size)
