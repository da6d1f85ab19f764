"""From effects to a mixed model: a row for the pitch of each reading, and one for its level."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.bending import Bending
from intonation.diagnosis.effects import Block, Setting, blocks_of
from intonation.diagnosis.magnitudes import FIXED, FREE, size_of
from intonation.diagnosis.mixed_model import FIXED_SIZE, MixedModel
from intonation.diagnosis.readings import Array, Axes, Numbers, Readings

_MIDDLE_NOISE = 0.7
"""The middle of a swell rests on several steps, so its pitch is better measured than one tone's."""


@dataclass(frozen=True, slots=True)
class Design:
    """Effects on a stack of readings, linear about a breath.

    Parameters
    ----------
    readings
        The stack.
    blocks
        Effects, whose columns follow each other in this order.
    slope
        Cents per dB of each reading at its breath.
    bent_cents
        Pitch that curvature adds to the linear form, per reading.
    """

    readings: Readings
    blocks: tuple[Block, ...]
    slope: Array
    bent_cents: Array

    @property
    def pitch(self) -> Array:
        """Readings by effects: cents."""
        return self._columns("pitch") + self.slope[:, None] * self.breath

    @property
    def breath(self) -> Array:
        """Readings by effects: dB of breath above the middle of the note's range."""
        return self._columns("breath")

    @property
    def level(self) -> Array:
        """Readings by effects: dB of level."""
        return self._columns("level") + self.breath

    def cents_by(self, beginning: str) -> Array:
        """Return readings by effects: cents by effects of one kind, breath apart."""
        return self._columns("pitch", lambda name: name.startswith(beginning))

    def lasting_breath(self) -> Array:
        """Return readings by effects: cents by the player's lasting breath on each note."""
        breath = self._columns("breath", lambda name: not name.startswith("passing"))
        return self._columns("pitch", lambda name: name == "bend") + self.slope[:, None] * breath

    def _columns(self, acts: str, kinds: Callable[[str], bool] = bool) -> Array:
        """Return readings by effects: what effects of some kinds do to one thing."""
        start = 0
        columns = np.zeros((len(self.readings), sum(len(block.sd) for block in self.blocks)))
        for block in self.blocks:
            own, end = getattr(block, acts), start + len(block.sd)
            if own is not None and kinds(block.name):
                columns[:, start:end] = own
            start = end
        return columns

    def where(self, chosen: Numbers | slice) -> "Design":
        """Return the same effects on some of the readings."""
        return Design(
            self.readings.where(chosen),
            tuple(block.where(chosen) for block in self.blocks),
            self.slope[chosen],
            self.bent_cents[chosen],
        )

    def columns_named(self, name: str) -> slice:
        """Return where the columns of a block are."""
        start = 0
        for block in self.blocks:
            if block.name == name:
                return slice(start, start + len(block.sd))
            start += len(block.sd)
        return slice(start, start)

    def own_effects(self, row: int, middles: Numbers) -> Numbers:
        """Return the columns of effects that one note has to itself.

        Parameters
        ----------
        row
            A reading of the note.
        middles
            Readings that are middles of its swells.
        """
        one = np.array([row])
        wanted = (("instrument note", one), ("fingers note", one), ("breath note", one))
        columns = []
        for name, rows in (*wanted, ("passing breath", middles)):
            start = self.columns_named(name).start
            block = next(block for block in self.blocks if block.name == name)
            acts = block.breath if block.pitch is None else block.pitch
            if acts is not None:
                columns.append(start + np.flatnonzero(acts[rows].any(axis=0)))
        return np.concatenate(columns)


def design_of(
    readings: Readings, *, axes: Axes, bending: Bending, setting: Setting, breath_db: Array
) -> Design:
    """Return the effects on a stack of readings; parameters as for ``blocks_of``."""
    blocks = blocks_of(readings, axes=axes, bending=bending, setting=setting, breath_db=breath_db)
    curvature = bending.curvature[readings.instrument, readings.note]
    slope = bending.cents_per_db[readings.instrument, readings.note] + 2.0 * curvature * breath_db
    return Design(readings, tuple(blocks), np.maximum(slope, 0.3), -curvature * breath_db**2)


def model_of(design: Design, *, measured: int) -> MixedModel:
    """Return the mixed model of the first ``measured`` readings: pitches, then known levels."""
    seen = design.where(slice(measured))
    readings = seen.readings
    known = np.flatnonzero(np.isfinite(readings.level_db))
    pitch_sd = size_of("pitch") * np.where(readings.middle, _MIDDLE_NOISE, 1.0)
    pitch_group = np.full(len(readings), FREE.index("pitch"), dtype=np.intp)
    level_sd = np.full(len(known), FIXED.level_db)
    level_group = np.full(len(known), FIXED_SIZE, dtype=np.intp)
    return MixedModel(
        design=np.vstack([seen.pitch, seen.level[known]]),
        observed=np.concatenate([readings.cents - seen.bent_cents, readings.level_db[known]]),
        effect_sd=np.concatenate([block.sd for block in seen.blocks]),
        effect_group=np.concatenate([block.group for block in seen.blocks]),
        noise_sd=np.concatenate([pitch_sd, level_sd]),
        noise_group=np.concatenate([pitch_group, level_group]),
    )
