"""The player's instruments between the practice record and the pages that choose and name them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from intonation.app.choices import neighbour, next_named
from intonation.app.instrument_words import TO_ADD_IT
from intonation.app.stand_in import TWO_FAULTS
from intonation.errors import SettingsError, StoreError
from intonation.instruments.library import INSTRUMENT_NAMES, instrument_named
from intonation.instruments.other_systems import SYSTEMS
from intonation.instruments.own_instrument import (
    OwnInstrument,
    size_that_is_named,
    size_within,
    spaced,
)
from intonation.pitch.concert_pitch import CONCERT_PITCHES, concert_pitch_hz
from intonation.practice.in_hand import STANDARD_A4_HZ, taken_in_hand
from intonation.practice.settings import PracticeSettings

if TYPE_CHECKING:
    from intonation.engine.instrument_desk import InstrumentDesk


def desk_in_memory() -> InstrumentDesk:
    """Return a desk that forgets its instruments when the program ends."""
    from intonation.engine.instrument_desk import InstrumentDesk
    from intonation.store.store import Store

    return InstrumentDesk(Store(None).instruments)


def offered_to(own: Sequence[OwnInstrument]) -> tuple[OwnInstrument, ...]:
    """Return someone's own instruments, and each size of which there are none, the highest first.

    Stepping through these never leads from a named alto to a nameless one by mistake.
    """
    return tuple(
        one
        for size in INSTRUMENT_NAMES
        for one in [mine for mine in own if mine.size == size]
        or [OwnInstrument(name=size, size=size)]
    )


class InstrumentShelf:
    """What can be done with instruments, each as a change of the player's choices.

    Parameters
    ----------
    opened
        Opens the instruments of the practice record; they are first looked for when they are
        needed.
    whose
        Returns whose instruments are chosen from: the player's also while another stands in.
    """

    def __init__(
        self,
        opened: Callable[[], InstrumentDesk] = desk_in_memory,
        *,
        whose: Callable[[PracticeSettings], str] = lambda settings: settings.player,
    ) -> None:
        self._open, self._whose = opened, whose

    @cached_property
    def desk(self) -> InstrumentDesk:
        """The instruments of the record."""
        return self._open()

    def own(self, settings: PracticeSettings) -> tuple[OwnInstrument, ...]:
        """Return the player's instruments; none while the record cannot be read."""
        try:
            own = self.desk.own(self._whose(settings))
        except StoreError:
            return ()
        return tuple(one for one in own if one.name != TWO_FAULTS)

    def in_hand(self, settings: PracticeSettings) -> OwnInstrument:
        """Return the instrument that is chosen, as the record has it."""
        known = (one for one in self.own(settings) if one.name == settings.instrument)
        return next(known, None) or OwnInstrument(
            name=settings.instrument,
            size=settings.recorder.size,
            fingering_system=settings.fingering_system,
        )

    def stepped(
        self, settings: PracticeSettings, steps: int, *, also: Collection[str] = ()
    ) -> PracticeSettings:
        """Take the next instrument: the player's own, and the sizes of which they have none.

        Parameters
        ----------
        settings, steps
            The choices, and how many instruments further down.
        also
            Names of instruments that are offered whoever plays them.
        """
        own = [*self.own(settings), *self._of_others(settings, also)]
        offered = {one.name: one for one in offered_to(own)}
        if settings.instrument in offered:
            name = neighbour(tuple(offered), settings.instrument, steps)
        else:
            name = next(n for n in offered if offered[n].size == settings.recorder.size)
        return self._taken(settings, offered[name])

    def entered(self, settings: PracticeSettings, text: str) -> PracticeSettings:
        """Take the instrument of a name or of a size.

        Raises
        ------
        SettingsError
            If there is none.
        """
        try:
            found = self.desk.found(text)
        except SettingsError as error:
            raise SettingsError(error.sentence, f"{error.what_to_do} {TO_ADD_IT}") from None
        if found.size is None:
            usual = settings.recorder.size
            found = replace(found, size=size_within(found.name) or usual)
            self.desk.instruments.keep(found)
        return self._taken(settings, found)

    def practised(self, settings: PracticeSettings, name: str) -> PracticeSettings | None:
        """Take an instrument of the record; None if its size is not known."""
        found = self.desk.found(name)
        return None if found.size is None else self._taken(settings, found)

    def added(self, settings: PracticeSettings, text: str) -> PracticeSettings:
        """Keep another instrument, and take it; the first one is kept too.

        Raises
        ------
        IntonationError
            If its name cannot be used, or the record cannot be written.
        """
        had_none, before = not self.own(settings), self.in_hand(settings)
        added = self.desk.added(text, usual_size=settings.recorder.size)
        if had_none:
            self.desk.instruments.keep(before)
        return self._taken(settings, added)

    def renamed(self, settings: PracticeSettings, text: str) -> PracticeSettings:
        """Call the instrument in hand otherwise; an empty name calls it by its size."""
        before = self.in_hand(settings)
        name = spaced(text) or settings.recorder.size
        after = self.desk.renamed(self._whose(settings), before, name)
        return self._taken(settings, after)

    def resized(self, settings: PracticeSettings, steps: int) -> PracticeSettings:
        """Let the instrument in hand be of the next size."""
        size = neighbour(INSTRUMENT_NAMES, settings.recorder.size, steps)
        return self._with_size(settings, size)

    def size_entered(self, settings: PracticeSettings, text: str) -> PracticeSettings:
        """Let the instrument in hand be of a size that was typed."""
        return self._with_size(settings, instrument_named(text).size)

    def refingered(self, settings: PracticeSettings, steps: int) -> PracticeSettings:
        """Let the instrument in hand be fingered in the next system."""
        system = neighbour(SYSTEMS, settings.fingering_system, steps)
        return self._changed(settings, replace(self.in_hand(settings), fingering_system=system))

    def repitched(self, settings: PracticeSettings, steps: int) -> PracticeSettings:
        """Give the instrument in hand the next concert pitch that is in use."""
        known = self.in_hand(settings).a4_hz or STANDARD_A4_HZ
        a4_hz = next_named(sorted(CONCERT_PITCHES.values()), known, steps)
        return self._with_pitch(settings, a4_hz)

    def pitch_entered(self, settings: PracticeSettings, text: str) -> PracticeSettings:
        """Give the instrument in hand a concert pitch that was typed."""
        return self._with_pitch(settings, concert_pitch_hz(text))

    def remarked(self, settings: PracticeSettings, text: str) -> PracticeSettings:
        """Remember a remark on the instrument in hand."""
        return self._changed(settings, replace(self.in_hand(settings), remark=spaced(text)))

    def put_away(self, settings: PracticeSettings) -> PracticeSettings:
        """Forget the instrument in hand, which nobody has played, and take the next.

        Raises
        ------
        SettingsError
            If notes are kept of it.
        """
        self.desk.instruments.forget(settings.instrument)
        size = settings.recorder.size
        alike = (one for one in offered_to(self.own(settings)) if one.size == size)
        return self._taken(settings, next(alike))

    def _of_others(self, settings: PracticeSettings, names: Collection[str]) -> list[OwnInstrument]:
        if not names:
            return []
        own = {one.name for one in self.own(settings)}
        known = self.desk.instruments.all()
        return [one for one in known if one.name in names and one.name not in own and one.size]

    def _taken(self, settings: PracticeSettings, instrument: OwnInstrument) -> PracticeSettings:
        return taken_in_hand(settings, instrument, left=self.in_hand(settings))

    def _with_size(self, settings: PracticeSettings, size: str) -> PracticeSettings:
        if size_that_is_named(settings.instrument) is not None:
            return self._taken(settings, OwnInstrument(name=size, size=size))
        return self._changed(settings, replace(self.in_hand(settings), size=size))

    def _with_pitch(self, settings: PracticeSettings, a4_hz: float) -> PracticeSettings:
        own = None if a4_hz == STANDARD_A4_HZ else a4_hz
        return self._changed(settings, replace(self.in_hand(settings), a4_hz=own))

    def _changed(self, settings: PracticeSettings, instrument: OwnInstrument) -> PracticeSettings:
        before = self.in_hand(settings)
        self.desk.instruments.keep(instrument)
        return taken_in_hand(settings, instrument, left=before)
