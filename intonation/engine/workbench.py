"""Joins the workshop to the practice record: examines, logs trials, undoes them, proves them."""

from collections.abc import Callable, Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from math import isfinite
from pathlib import Path
from typing import Literal

from intonation.acoustics.alterations import Alteration
from intonation.acoustics.geometry import Geometry
from intonation.errors import SettingsError
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.instrument import Instrument
from intonation.instruments.other_systems import SYSTEMS
from intonation.instruments.own_instrument import recorder, size_within
from intonation.language import say
from intonation.store.comparable import comparable_notes
from intonation.store.own_geometries import OwnGeometries, read_geometry
from intonation.store.store import Store
from intonation.workshop.compass import Compass, Progress, compass_of, playable_compass
from intonation.workshop.examining import Examination, examine
from intonation.workshop.faults import Cause, candidate_causes
from intonation.workshop.planning import PlannedWork
from intonation.workshop.proof import Proof, prove
from intonation.workshop.trial import Trial

_FEWEST_NOTES = 8
"""Fewer different notes show no pattern that one cause has and another has not (judgement)."""

Side = Literal["before", "after", "undone"]


def unwatched(_: float) -> None:
    """Take no notice of progress."""


@dataclass(slots=True)
class Workbench:
    """One player's instruments, their trials, and what the model knows of them.

    What took seconds to work out is kept as long as the notes that it rests on are the same.

    Parameters
    ----------
    store
        The practice record.
    now
        Returns the present date and time.
    sizes
        Size of an instrument of which the record does not know it.
    geometry
        Dimensions to use for every instrument; None takes the instrument's own.
    geometries
        Remembers the files of the instruments' own dimensions; without a file those that ship for
        the size are used.
    """

    store: Store
    now: Callable[[], datetime]
    sizes: Mapping[str, str] = field(default_factory=dict)
    geometry: Geometry | None = None
    geometries: OwnGeometries | None = None
    _known: dict[tuple[str, Geometry], tuple[Cause, ...]] = field(default_factory=dict)
    _examined: dict[Hashable, Examination | None] = field(default_factory=dict)
    _proven: dict[Hashable, Proof] = field(default_factory=dict)

    def compass(self, instrument: str) -> Compass:
        """Return an instrument as the model knows it.

        Raises
        ------
        SettingsError
            If its size is not known.
        DataFileError
            If its own dimensions cannot be read or do not play its notes.
        """
        named = self.recorder(instrument)
        own = self.geometry or self._remembered(instrument)
        return compass_of(named) if own is None else playable_compass(named, own)

    def recorder(self, instrument: str) -> Instrument:
        """Return an instrument as a recorder of its size and fingering system.

        Raises
        ------
        SettingsError
            If its size is not known.
        """
        known = self.store.instruments.named(instrument)
        by_name = size_within(instrument) if known is None else known.size
        size = self.sizes.get(instrument) or by_name
        if size is None:
            raise SettingsError(
                say('The size of "{name}" is not known.', name=instrument),
                say("Say which it is with I on the practice page, or for example --size alto."),
            )
        system = SYSTEMS[0] if known is None else known.fingering_system
        return recorder(instrument, size=size, fingering_system=system)

    def own_file(self, instrument: str) -> Path | None:
        """Return the file of an instrument's own dimensions, None if none was chosen."""
        return None if self.geometries is None else self.geometries.file_of(instrument)

    def choose_file(self, instrument: str, file: Path | None) -> None:
        """Use the dimensions of a file for an instrument from now on; None for the usual ones.

        Raises
        ------
        DataFileError
            If the file cannot be read, has a mistake in it, or does not play the notes.
        SettingsError
            If the choice cannot be remembered.
        """
        if self.geometries is None:
            raise SettingsError(say("Files of dimensions are not remembered in this sitting."), "")
        if file is not None:
            playable_compass(self.recorder(instrument), read_geometry(file))
        self.geometries.remember(instrument, file)

    def _remembered(self, instrument: str) -> Geometry | None:
        return None if self.geometries is None else self.geometries.geometry_of(instrument)

    def examine(
        self, player: str, instrument: str, *, progress: Progress = unwatched
    ) -> Examination | None:
        """Return what is known of an instrument since it was last changed; None for too few notes.

        Parameters
        ----------
        player, instrument
            Whose notes, on what.
        progress
            Called with the share that is done; an exception from it cancels.

        Raises
        ------
        SettingsError
            If the instrument's size is not known.
        """
        rows = self._rows_since_changed(player, instrument)
        if len({row.midi for row in rows}) < _FEWEST_NOTES:
            return None
        geometry = self.compass(instrument).geometry
        key = (player, instrument, geometry, tuple(row.event for row in rows))
        if key not in self._examined:
            self._examined[key] = self._examine(player, instrument, rows, progress)
        return self._examined[key]

    def _examine(
        self, player: str, instrument: str, rows: Sequence[HeldNoteRow], progress: Progress
    ) -> Examination | None:
        compass, causes = self._causes(instrument, lambda share: progress(0.3 * share))
        return examine(
            rows,
            player=player,
            instrument=instrument,
            compass=compass,
            causes=causes,
            progress=lambda share: progress(0.3 + 0.7 * share),
        )

    def notes(
        self, player: str | None, instrument: str, *, since: datetime | None = None
    ) -> Iterator[HeldNoteRow]:
        """Yield what the instrument is judged by, whatever the notes were held to."""
        return comparable_notes(
            self.store.database, player=player, instrument=instrument, since=since
        )

    def trials(self, player: str | None = None, instrument: str | None = None) -> tuple[Trial, ...]:
        """Return the trials of a player on an instrument, the oldest first."""
        return self.store.trials.all(player=player, instrument=instrument)

    def standing_work(self, player: str, instrument: str) -> tuple[Alteration, ...]:
        """Return what was done to an instrument and not undone, in order."""
        standing = (t for t in self.trials(player, instrument) if t.undone_at is None)
        return tuple(alteration for trial in standing for alteration in trial.alterations)

    def log(self, player: str, instrument: str, work: PlannedWork, *, note: str = "") -> int:
        """Keep that some work was done just now, with its prediction, and return its number."""
        effects = zip(work.midi, work.effect_cents, strict=True)
        return self.store.trials.log(
            work.alterations,
            player=player,
            instrument=instrument,
            made_at=self.now(),
            predicted_cents={midi: cents for midi, cents in effects if isfinite(cents)},
            note=note,
        )

    def undo(self, number: int, *, note: str = "") -> None:
        """Keep that a trial was undone just now."""
        self.store.trials.undo(number, undone_at=self.now(), note=note)

    def prove(
        self,
        trial: Trial,
        *,
        before: Collection[str] = (),
        after: Collection[str] = (),
        progress: Progress = unwatched,
    ) -> Proof:
        """Return what a trial did.

        Parameters
        ----------
        trial
            A trial of the record.
        before, after
            Sessions to compare; without them, every note held before the trial and every note held
            while it stood.
        progress
            Called with the share that is done; an exception from it cancels.
        """
        rows = list(self.notes(trial.player, trial.instrument))
        if before and after:
            return prove(trial, rows, before=before, after=after, progress=progress)
        key = (trial.number, trial.undone_at, tuple(row.event for row in rows))
        if key not in self._proven:
            self._proven[key] = self._prove(trial, rows, progress)
        return self._proven[key]

    def _prove(self, trial: Trial, rows: Sequence[HeldNoteRow], progress: Progress) -> Proof:
        sides = self._sides(trial)
        marked = [
            (sides.get(row.event, "before"), replace(row, session=_named(row, sides)))
            for row in rows
        ]
        sessions = {
            side: {row.session for of, row in marked if of == side} for side in ("before", "after")
        }
        kept = [row for side, row in marked if side != "undone"]
        return prove(
            trial,
            kept,
            before=sessions["before"],
            after=sessions["after"],
            progress=progress,
        )

    def _causes(self, instrument: str, progress: Progress) -> tuple[Compass, tuple[Cause, ...]]:
        compass = self.compass(instrument)
        key = (instrument, compass.geometry)
        if key not in self._known:
            self._known[key] = candidate_causes(compass, progress=progress)
        return compass, self._known[key]

    def _rows_since_changed(self, player: str, instrument: str) -> list[HeldNoteRow]:
        """Return notes on the instrument as it is now, since any of its trials began or ended."""
        moments = [
            moment
            for trial in self.trials(instrument=instrument)
            for moment in (trial.made_at, trial.undone_at)
            if moment is not None
        ]
        latest = max(moments, default=None)
        return list(self.notes(player, instrument, since=latest))

    def _sides(self, trial: Trial) -> dict[int, Side]:
        """Return for the notes held since a trial began whether it stood then."""
        sides: dict[int, Side] = dict.fromkeys(self._events(trial, trial.made_at), "after")
        if trial.undone_at is not None:
            sides |= dict.fromkeys(self._events(trial, trial.undone_at), "undone")
        return sides

    def _events(self, trial: Trial, since: datetime) -> list[int]:
        kept = self.store.held_notes(player=trial.player, instrument=trial.instrument, since=since)
        return [row.event for row in kept]


def _named(row: HeldNoteRow, sides: Mapping[int, Side]) -> str:
    """Return a session's name of its own for the part of it that was played during the trial."""
    return f"{row.session}, {sides[row.event]}" if row.event in sides else row.session
