"""How often ear, breath or instrument is rightly named, on simulated players. Run as a module.

python -m tests.benchmarks.three_way_accuracy [PLAYERS] [FIRST_SEED]

All magnitudes are invented for simulation. Each lever is the largest for a third of the players.
What the player hears is measured by simulated answers; the spread of repeated tones and the ends of
swells carry errors of measurement; shares and following are drawn otherwise than in the model.
"""

import math
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.parts import HALF_WIDTH_90, Interval
from intonation.diagnosis.three_way import LEVERS, Hearing, MatchedNote, ThreeWay, three_way
from intonation.listening.simulated_listener import SimulatedListener
from tests.support.ears import sharp_or_flat_results

DESIGNS = ((15, 8), (30, 14), (60, 27))
"""Answers by ear, and notes against a reference."""
_SLIPS = 0.03


@dataclass(frozen=True, slots=True)
class Aim:
    """What really keeps a simulated player from a reference.

    Shapes: low and high (notes,), in cents from the reference.
    """

    listener: SimulatedListener
    share: float
    following: float
    motor_cents: float
    unmatched_cents: np.ndarray
    low_cents: np.ndarray
    high_cents: np.ndarray

    @property
    def reach_cents(self) -> np.ndarray:
        """How far the reference lies outside each note's range."""
        outside: np.ndarray = np.maximum(self.low_cents, 0.0) + np.minimum(self.high_cents, 0.0)
        return outside

    @property
    def sizes(self) -> tuple[float, float, float]:
        """Root-mean-square cents of ear, breath and instrument."""
        ear = math.hypot(self.listener.bias_cents, self.share * self.listener.blur_cents)
        return ear, self.motor_cents, float(np.sqrt(np.mean(self.reach_cents**2)))


def an_aim(rng: np.random.Generator, notes: int) -> Aim:
    """Return an invented player on an invented instrument."""
    listener = SimulatedListener(
        threshold_cents=float(np.exp(rng.normal(math.log(4.0), 0.7))),
        bias_cents=float(rng.normal(0.0, 4.0)),
        lapses=float(rng.uniform(0.0, 0.05)),
    )
    off = rng.normal(0.0, 3.0) + rng.standard_t(5.0, notes) * math.exp(rng.normal(1.6, 0.5))
    half = np.maximum(3.0, rng.normal(math.exp(rng.normal(2.6, 0.4)), 2.0, notes))
    return Aim(
        listener,
        float(rng.uniform(0.4, 1.0)),
        float(rng.beta(8.0, 2.0)),
        float(np.exp(rng.normal(math.log(4.5), 0.6))),
        off,
        off - half,
        off + half,
    )


def balanced(count: int, notes: int, rng: np.random.Generator) -> list[Aim]:
    """Return players of whom a third each is limited most by ear, breath and instrument."""
    found: list[list[Aim]] = [[], [], []]
    while min(map(len, found)) * 3 < count:
        aim = an_aim(rng, notes)
        kind = int(np.argmax(aim.sizes))
        if len(found[kind]) * 3 < count:
            found[kind].append(aim)
    return [aim for kind in found for aim in kind]


def told(aim: Aim, answers: int, rng: np.random.Generator) -> ThreeWay | None:
    """Return what is said of a player after drills, a check, and notes against a reference."""
    ear = sharp_or_flat_results(aim.listener, after=(answers,), rng=rng)[answers]
    if ear.bias_cents is None:
        return None
    bias_sd = (ear.bias_cents.high - ear.bias_cents.low) / (2.0 * HALF_WIDTH_90)
    hearing = Hearing(
        bias_cents=ear.bias_cents.value,
        bias_sd_cents=bias_sd,
        log_blur=ear.log_blur,
        log_blur_sd=ear.log_blur_sd,
    )
    return three_way(_played(aim, rng), hearing=hearing, motor_cents=_repeated(aim, rng))


def _played(aim: Aim, rng: np.random.Generator) -> list[MatchedNote]:
    count = len(aim.unmatched_cents)
    spread = math.hypot(aim.share * aim.listener.blur_cents, aim.motor_cents)
    cents = aim.listener.bias_cents + (1.0 - aim.following) * aim.unmatched_cents
    cents = cents + aim.reach_cents + rng.normal(0.0, spread, count)
    cents = cents + (rng.random(count) < _SLIPS) * rng.choice([-50.0, 50.0], count)
    seen = np.stack([aim.unmatched_cents, aim.low_cents, aim.high_cents])
    seen = seen + rng.normal(0.0, 2.0) + rng.normal(0.0, 2.0, seen.shape)
    return [
        MatchedNote(cents=c, unmatched_cents=u, low_cents=low, high_cents=high)
        for c, u, low, high in zip(cents.tolist(), *seen.tolist(), strict=True)
    ]


def _repeated(aim: Aim, rng: np.random.Generator) -> Interval:
    """Return the spread of the same tones played twice, of every note of a standard check."""
    tones = aim.motor_cents * rng.normal(size=(27, 2))
    spread = math.sqrt(float(np.mean((tones[:, 0] - tones[:, 1]) ** 2)) / 2.0)
    reach = HALF_WIDTH_90 * spread / math.sqrt(2.0 * 27)
    return Interval(spread, spread - reach, spread + reach)


def figures(cases: Sequence[tuple[Aim, ThreeWay]]) -> str:
    """Return the figures of merit as cells of a table."""
    right, sure, sure_right = [], [], []
    covered: dict[str, list[bool]] = {lever: [] for lever in LEVERS}
    for aim, found in cases:
        best = max(LEVERS, key=lambda lever: found.largest[lever])
        right.append(best == LEVERS[int(np.argmax(aim.sizes))])
        sure.append(found.largest[best] >= 0.8)
        if sure[-1]:
            sure_right.append(right[-1])
        for lever, size in zip(LEVERS, aim.sizes, strict=True):
            interval = getattr(found, lever)
            covered[lever].append(interval.low <= size <= interval.high)
    covers = " / ".join(f"{np.mean(covered[lever]):.2f}" for lever in LEVERS)
    return f"{np.mean(right):.2f} | {np.mean(sure):.2f} | {np.mean(sure_right):.2f} | {covers}"


def lines(players: int, first_seed: int) -> Iterator[str]:
    """Yield a line of the table for each design."""
    for answers, notes in DESIGNS:
        rng = np.random.default_rng(first_seed)
        aims = balanced(players, notes, rng)
        cases = [(aim, found) for aim in aims if (found := told(aim, answers, rng)) is not None]
        yield f"| {answers} | {notes} | {figures(cases)} | {len(cases)} |"


def main(arguments: Sequence[str]) -> None:
    """Print the table."""
    players, seed = (int(a) for a in arguments[:2]) if len(arguments) > 1 else (150, 1)
    print(
        "| answers | notes | right | sure | right when sure | cover ear / breath / instrument | n |"
    )
    for line in lines(players, seed):
        print(line, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
