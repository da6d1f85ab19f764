"""The reference that sounds in the room, as a sum of steady partials."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class ReferencePartials:
    """The partials of a steady reference.

    Parameters
    ----------
    frequencies_hz
        By the clock of whatever sounds them.
    levels_db
        RMS level of each in dBFS, as sounded.
    """

    frequencies_hz: tuple[float, ...]
    levels_db: tuple[float, ...]


def reference_partials_of(
    samples: NDArray[np.floating], sample_rate_hz: float
) -> ReferencePartials:
    """Return the steady partials in a recording of the reference alone."""
    raise NotImplementedError
