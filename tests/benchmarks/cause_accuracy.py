"""How often a simulated fault is named first, alone and beside another. Run by hand.

``python -m tests.benchmarks.cause_accuracy``. The first table takes its truth from an independent
library with other makers and another acoustics (tests/golden/openwind_makers.py).
"""

import argparse
import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from intonation.acoustics.alterations import Alteration
from intonation.instruments.library import instrument_named
from intonation.workshop.causes import RankedCause, rank_causes
from intonation.workshop.compass import Compass, compass_of
from intonation.workshop.faults import Cause, candidate_causes
from tests.support.makers import TWELVE_FAULTS, another_maker

NOISE_CENTS = 4.0
_MAKERS = Path(__file__).parents[1] / "golden" / "openwind_makers.json"


def place_of(cause: Cause) -> str:
    if cause.kind == "bore":
        return f"{cause.from_mm:.0f}"
    return (cause.finger or "") if cause.kind.startswith("hole") else cause.kind


def offsets_from(maker: Compass, fault: Sequence[Alteration], size: float) -> np.ndarray:
    largest = np.nanmax(np.abs(maker.effect(fault)))
    grown = [replace(a, amount_mm=a.amount_mm * size / largest) for a in fault]
    return maker.effect(grown)


def places_of(entry: RankedCause) -> set[str]:
    return {place_of(cause) for cause in (entry.cause, *entry.look_alikes)}


def measured(rng: np.random.Generator, effect: np.ndarray) -> np.ndarray:
    """Return what is measured: the effect, noise, an overall pitch and the player's slope."""
    count = len(effect)
    slope = rng.normal(0, 4) * np.linspace(-1, 1, count)
    return effect + rng.normal(0, NOISE_CENTS, count) + rng.normal(0, 10) + slope


def independent_offsets(size: float) -> list[tuple[str, np.ndarray]]:
    """Every fault of every independent maker in both directions, at a size in cents."""
    return [
        (place, sign * size * np.array(cents) / np.max(np.abs(cents)))
        for maker in json.loads(_MAKERS.read_text("utf-8"))
        for place, cents in maker.items()
        for sign in (-1.0, 1.0)
    ]


def print_independent(
    causes: tuple[Cause, ...], midi: tuple[int, ...], rng: np.random.Generator
) -> None:
    covariance = NOISE_CENTS**2 * np.eye(len(midi))
    for size in (20.0, 12.0):
        first, second, stated = [], [], []
        for place, effect in independent_offsets(size) * 2:
            ranked = rank_causes(causes, midi, measured(rng, effect), covariance)
            first.append(place in places_of(ranked[0]))
            second.append(any(place in places_of(entry) for entry in ranked[:2]))
            stated.append(ranked[0].probability)
        print(
            f"independent truth, one fault of {size:.0f} c: first {np.mean(first):.3f}, first two "
            f"{np.mean(second):.3f}, stated {np.mean(stated):.3f}, n = {len(first)}"
        )


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--makers", type=int, default=25)
    makers = parser.parse_args().makers
    rng = np.random.default_rng(2)
    model = compass_of(instrument_named("alto"))
    causes = candidate_causes(model)
    covariance = NOISE_CENTS**2 * np.eye(len(model.midi))
    print_independent(causes, model.midi, rng)
    plan = list(TWELVE_FAULTS.items())
    for size in (20.0, 12.0):
        first, head, second, stated, alone = [], [], [], [], []
        for _ in range(makers):
            maker = replace(model, geometry=another_maker(rng))
            for place, fault in plan:
                effect = offsets_from(maker, fault, rng.choice([-1, 1]) * size)
                ranked = rank_causes(causes, model.midi, measured(rng, effect), covariance)
                first.append(place in places_of(ranked[0]))
                head.append(place_of(ranked[0].cause) == place)
                second.append(any(place in places_of(entry) for entry in ranked[:2]))
                stated.append(ranked[0].probability)
                alone.append(len(places_of(ranked[0])) == 1)
        print(
            f"one fault of {size:.0f} c: first {np.mean(first):.3f} (alone in its group "
            f"{np.mean(head):.3f}), first two {np.mean(second):.3f}, stated "
            f"{np.mean(stated):.3f}, one place named {np.mean(alone):.3f}, n = {len(first)}"
        )
        both, either = [], []
        for _ in range(makers):
            maker = replace(model, geometry=another_maker(rng))
            wide = (
                rng.choice([-1, 1])
                * size
                * np.asarray(next(c.pattern for c in causes if c.kind == "octaves"))
            )
            for place, fault in plan[:8]:
                effect = wide + offsets_from(maker, fault, rng.choice([-1, 1]) * size)
                ranked = rank_causes(causes, model.midi, measured(rng, effect), covariance)
                found = places_of(ranked[0]) | places_of(ranked[1])
                both.append({place, "octaves"} <= found)
                either.append(bool({place, "octaves"} & places_of(ranked[0])))
        print(
            f"octaves {size:.0f} c wrong and a hole {size:.0f} c: both first {np.mean(both):.3f}, "
            f"one of them first {np.mean(either):.3f}, n = {len(both)}"
        )
    blamed = []
    for _ in range(8 * makers):
        ranked = rank_causes(
            causes, model.midi, measured(rng, np.zeros(len(model.midi))), covariance
        )
        blamed.append(ranked[0].cause.kind != "none" and ranked[0].probability > 0.7)
    print(f"no fault: something blamed with more than 0.7: {np.mean(blamed):.3f}")


if __name__ == "__main__":
    main()
