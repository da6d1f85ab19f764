"""From effects to a mixed model: a row for the pitch of each reading, and one for its level."""

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
        return np.hstack([self._pitch_of(block) for block in self.blocks])

    @property
    def breath(self) -> Array:
        """Readings by effects: dB of breath above the middle of the note's range."""
        shape = len(self.readings)
        return np.hstack([_or_nothing(block.breath, shape, block) for block in self.blocks])

    @property
    def level(self) -> Array:
        """Readings by effects: dB of level."""
        shape = len(self.readings)
        own = np.hstack([_or_nothing(block.level, shape, block) for block in self.blocks])
        return own + self.breath

    def _pitch_of(self, block: Block) -> Array:
        columns = _or_nothing(block.pitch, len(self.readings), block)
        return columns if block.breath is None else columns + self.slope[:, None] * block.breath

    def cents_by(self, beginning: str) -> Array:
        """Return readings by effects: cents by effects of one kind, breath apart."""
        shape = len(self.readings)
        parts = []
        for block in self.blocks:
            columns = _or_nothing(block.pitch, shape, block)
            parts.append(columns * float(block.name.startswith(beginning)))
        return np.hstack(parts)

    def lasting_breath(self) -> Array:
        """Return readings by effects: cents by the player's lasting breath on each note."""
        parts = []
        for block in self.blocks:
            if block.name == "bend":
                parts.append(_or_nothing(block.pitch, len(self.readings), block))
                continue
            lasting = 0.0 if block.name.startswith("passing") else 1.0
            columns = _or_nothing(block.breath, len(self.readings), block)
            parts.append(lasting * self.slope[:, None] * columns)
        return np.hstack(parts)

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


def _or_nothing(columns: Array | None, rows: int, block: Block) -> Array:
    return np.zeros((rows, len(block.sd))) if columns is None else columns


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
    readings = design.readings.where(np.arange(measured))
    known = np.flatnonzero(np.isfinite(readings.level_db))
    pitch_sd = size_of("pitch") * np.where(readings.middle, _MIDDLE_NOISE, 1.0)
    pitch_group = np.full(len(readings), FREE.index("pitch"), dtype=np.intp)
    level_sd = np.full(len(known), FIXED.level_db)
    level_group = np.full(len(known), FIXED_SIZE, dtype=np.intp)
    return MixedModel(
        design=np.vstack([design.pitch[:measured], design.level[known]]),
        observed=np.concatenate(
            [readings.cents - design.bent_cents[:measured], readings.level_db[known]]
        ),
        effect_sd=np.concatenate([block.sd for block in design.blocks]),
        effect_group=np.concatenate([block.group for block in design.blocks]),
        noise_sd=np.concatenate([pitch_sd, level_sd]),
        noise_group=np.concatenate([pitch_group, level_group]),
    )
