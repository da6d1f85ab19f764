"""Write openwind_makers.json: faults on altos whose makers and whose acoustics differ from ours.

Run by hand like ``openwind_alto.py``: ``python -m tests.golden.openwind_makers`` (ten minutes).
Every maker has other dimensions, and the library computes with other end corrections, corrections
at the holes, losses, thumb slits and warmth than the model that has to name the fault. All draws
are invented. For each maker and fault the file holds the cents by which it moves every note.
"""

import warnings
from pathlib import Path

import numpy as np

from intonation.acoustics.alterations import altered
from intonation.acoustics.geometry import Geometry
from intonation.acoustics.playing import playing_frequencies_hz
from tests.golden.openwind_alto import Acoustics, playing_hz, written
from tests.support.makers import TWELVE_FAULTS, another_maker
from tests.support.openwind_cases import FINGERINGS, NEAR_HZ

MAKERS = 8
RADIATION = ("unflanged", "infinite_flanged")


def another_acoustics(rng: np.random.Generator) -> Acoustics:
    """Return how the library computes for one maker; draws are invented."""
    return Acoustics(
        hole_radiation=str(rng.choice(RADIATION)),
        bell_radiation=str(rng.choice(RADIATION)),
        volume_in_chimney=False,
        matching_volume=bool(rng.integers(2)),
        thumb_slit=float(rng.uniform(0.07, 0.20)),
        losses_times=float(rng.uniform(1.0, 1.6)),
        celsius=float(rng.uniform(21.0, 28.0)),
    )


def effects(maker: Geometry, acoustics: Acoustics) -> dict[str, list[float]]:
    """Return the cents by which every fault, in its first small size, moves every note."""
    start = playing_frequencies_hz(maker, FINGERINGS, NEAR_HZ, celsius=acoustics.celsius).tolist()
    sound = np.array(playing_hz(maker, acoustics, start))
    moved = {}
    for name, work in TWELVE_FAULTS.items():
        faulty = maker
        for alteration in work:
            faulty = altered(faulty, alteration)
        now = np.array(playing_hz(faulty, acoustics, sound.tolist()))
        moved[name] = np.round(1200.0 * np.log2(now / sound), 3).tolist()
    return moved


if __name__ == "__main__":
    warnings.simplefilter("ignore")
    rng = np.random.default_rng(12)
    drawn = [(another_maker(rng), another_acoustics(rng)) for _ in range(MAKERS)]
    written(Path(__file__).with_suffix(".json"), [effects(*each) for each in drawn])
