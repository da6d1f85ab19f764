"""The notes of an instrument as the acoustic model fingers them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.acoustics.alterations import Alteration, altered
from intonation.acoustics.geometry import Geometry, OpenFractions
from intonation.acoustics.library import geometry_of
from intonation.acoustics.playing import WARM_BORE_CELSIUS, playing_frequencies_hz
from intonation.errors import DataFileError
from intonation.instruments.instrument import Instrument
from intonation.language import name_in_words, say
from intonation.pitch.notes import equal_tempered_hz

Cents = NDArray[np.float64]
Progress = Callable[[float], None]
"""Called with the finished share of the work, 0 to 1; may raise to cancel it."""


_MOST_SILENT = 0.2
"""With more of its notes sounding nowhere near their place, dimensions belong to another size or
are mistaken (judgement)."""


@dataclass(frozen=True, slots=True)
class Compass:
    """An instrument's geometry and the fingering of each of its notes.

    Parameters
    ----------
    geometry
        Dimensions.
    midi
        Sounding notes, rising.
    fingerings
        Open fractions of the holes for each note.
    instrument
        Its size and chart; None if only its dimensions matter.
    """

    geometry: Geometry
    midi: tuple[int, ...]
    fingerings: tuple[OpenFractions, ...]
    instrument: Instrument | None = None

    def cents(self, geometry: Geometry, *, celsius: float = WARM_BORE_CELSIUS) -> Cents:
        """Return how far each note lies from equal temperament at 440 Hz on a geometry.

        NaN marks a note that does not speak near its place.
        """
        near_hz = [equal_tempered_hz(midi, a4_hz=440.0) for midi in self.midi]
        sounding_hz = playing_frequencies_hz(geometry, self.fingerings, near_hz, celsius=celsius)
        return np.asarray(1200.0 * np.log2(sounding_hz / np.asarray(near_hz)))

    def effect(self, alterations: Sequence[Alteration]) -> Cents:
        """Return the cents by which a set of alterations, done together, moves each note."""
        geometry = self.geometry
        for alteration in alterations:
            geometry = altered(geometry, alteration)
        return self.moved(geometry)

    def moved(self, geometry: Geometry) -> Cents:
        """Return the cents by which each note moves when the geometry becomes another."""
        return np.asarray(self.cents(geometry) - self.cents(self.geometry))

    def leak_effect(self, hole: str, *, open_fraction: float = 0.01) -> Cents:
        """Return the cents by which a slightly leaking hole moves each note that closes it."""
        leaking = tuple(
            {**fingering, hole: max(open_fraction, fingering.get(hole, 0.0))}
            for fingering in self.fingerings
        )
        leaky = Compass(self.geometry, self.midi, leaking)
        return np.asarray(leaky.cents(self.geometry) - self.cents(self.geometry))


def compass_of(instrument: Instrument, *, geometry: Geometry | None = None) -> Compass:
    """Return the notes of an instrument as its chart fingers them.

    Parameters
    ----------
    instrument
        Size and chart. Notes played with a stopped foot are left out: the model cannot stop it.
    geometry
        The maker's own dimensions; None takes the ones that ship for this size.
    """
    fingered = {
        midi: fingering.open_fractions()
        for midi in instrument.notes_midi
        if (fingering := instrument.fingering(midi)) is not None and not fingering.bell
    }
    dimensions = geometry or geometry_of(instrument.size)
    return Compass(dimensions, tuple(fingered), tuple(fingered.values()), instrument)


def playable_compass(instrument: Instrument, geometry: Geometry) -> Compass:
    """Return the notes of an instrument on dimensions of its own.

    Raises
    ------
    DataFileError
        If most fingerings sound nowhere near their note, as with another size or another unit.
    """
    compass = compass_of(instrument, geometry=geometry)
    if np.mean(~np.isfinite(compass.cents(geometry))) > _MOST_SILENT:
        raise DataFileError(
            say(
                "The dimensions of {geometry} do not play the notes of an instrument like "
                "this: {title}.",
                geometry=geometry.name,
                title=name_in_words(instrument.title),
            ),
            say(
                "Is it the right size? All lengths are millimetres, positions count from the "
                "window's lip, bores are radii and holes are diameters."
            ),
        )
    return compass
