"""How well the ear is measured, on simulated listeners. Run as a module; prints the tables.

python -m tests.benchmarks.listening_accuracy [LISTENERS] [SEED] [TABLE]

Thresholds are drawn evenly in their logarithm from 1 to 40 cents, biases with a standard deviation
of 4 cents, other intervals of the same listener with a spread of 0.35 in the logarithm. All of it
is invented for simulation.
"""

import math
import sys
import time
from collections.abc import Iterator, Sequence

import numpy as np

from intonation.listening.estimate import EarEstimate
from intonation.listening.prior import UNKNOWN_LISTENER, prior_from
from intonation.listening.questions import sharp_or_flat
from intonation.listening.simulated_listener import SimulatedListener
from intonation.listening.staircase import Staircase, after_answer, share_right_where_it_settles
from intonation.listening.threshold import (
    belief_after,
    belief_before,
    estimate,
    next_deviation_cents,
)
from tests.support.ears import sharp_or_flat_results

AFTER = (15, 30, 60)
STAIRCASE_AFTER = (30, 60, 80, 120)
FINE_EARS_CENTS = 3.0
SPREAD_BETWEEN_INTERVALS, BIAS_SD_CENTS = 0.35, 4.0


def a_listener(rng: np.random.Generator, *, lapses: float) -> SimulatedListener:
    """Return a listener whose threshold lies anywhere from 1 to 40 cents."""
    threshold_cents = math.exp(rng.uniform(0.0, math.log(40.0)))
    bias_cents = float(rng.normal(0.0, BIAS_SD_CENTS))
    return SimulatedListener(threshold_cents=threshold_cents, bias_cents=bias_cents, lapses=lapses)


def with_another_interval(
    listener: SimulatedListener, rng: np.random.Generator
) -> SimulatedListener:
    """Return the same ear with another interval."""
    factor = math.exp(rng.normal(0.0, SPREAD_BETWEEN_INTERVALS))
    return SimulatedListener(
        threshold_cents=listener.threshold_cents * factor,
        bias_cents=float(rng.normal(0.0, BIAS_SD_CENTS)),
        lapses=listener.lapses,
    )


def figures(pairs: Sequence[tuple[SimulatedListener, EarEstimate]]) -> str:
    """Return rms errors and coverages as cells of a table."""
    log_error = np.array([e.log_blur - math.log(li.blur_cents) for li, e in pairs])
    bias_error = [e.bias_cents.value - li.bias_cents for li, e in pairs if e.bias_cents]
    fine = np.array([li.threshold_cents <= FINE_EARS_CENTS for li, _ in pairs])
    covered = np.array([e.blur_cents.low <= li.blur_cents <= e.blur_cents.high for li, e in pairs])
    known = [
        e.bias_cents.low <= li.bias_cents <= e.bias_cents.high for li, e in pairs if e.bias_cents
    ]
    return (
        f"{_rms(log_error):.2f} | {_rms(np.array(bias_error)):.1f} | {covered.mean():.2f} | "
        f"{covered[fine].mean():.2f} | {np.mean(known):.2f}"
    )


def adaptive_lines(count: int, rng: np.random.Generator) -> Iterator[str]:
    """Yield the figures of the adaptive threshold."""
    for lapses in (0.02, 0.08):
        found: dict[int, list[tuple[SimulatedListener, EarEstimate]]] = {n: [] for n in AFTER}
        for _ in range(count):
            listener = a_listener(rng, lapses=lapses)
            results = sharp_or_flat_results(listener, after=AFTER, rng=rng)
            for answers, result in results.items():
                found[answers].append((listener, result))
        for answers, pairs in found.items():
            yield f"| {100 * lapses:.0f} % | {answers} | {figures(pairs)} |"


def further_lines(count: int, rng: np.random.Generator) -> Iterator[str]:
    """Yield the figures of a fourth interval after three others of 25 answers each."""
    for lapses in (0.02, 0.08):
        for answers in (12, 25):
            pairs, alone = [], []
            for _ in range(count):
                listener = a_listener(rng, lapses=lapses)
                others = [
                    sharp_or_flat_results(
                        with_another_interval(listener, rng), after=(25,), rng=rng
                    )
                    for _ in range(3)
                ]
                fourth = with_another_interval(listener, rng)
                priors = (prior_from([other[25] for other in others]), UNKNOWN_LISTENER)
                for into, prior in zip((pairs, alone), priors, strict=True):
                    results = sharp_or_flat_results(fourth, after=(answers,), rng=rng, prior=prior)
                    into.append((fourth, results[answers]))
            yield f"| {100 * lapses:.0f} % | {answers} | {figures(pairs)} |"
            yield f"| {100 * lapses:.0f} %, alone | {answers} | {figures(alone)} |"


def staircase_lines(count: int, rng: np.random.Generator) -> Iterator[str]:
    """Yield the error of a 2-down/1-up staircase; it knows no bias, so its listeners have none."""
    settles = _z(share_right_where_it_settles(2))
    for lapses in (0.02, 0.08):
        errors: dict[int, list[float]] = {n: [] for n in STAIRCASE_AFTER}
        for _ in range(count):
            drawn = a_listener(rng, lapses=lapses)
            stairs = Staircase(step_cents=20.0)
            for answers in range(1, max(STAIRCASE_AFTER) + 1):
                share = _share_right(drawn, stairs.step_cents)
                stairs = after_answer(stairs, right=bool(rng.random() < share))
                if answers in errors:
                    turns = stairs.reversals_cents[2:] or (stairs.step_cents,)
                    found = float(np.mean(np.log(turns)))
                    errors[answers].append(found - math.log(settles * drawn.blur_cents))
        cells = " | ".join(f"{_rms(np.array(each)):.2f}" for each in errors.values())
        yield f"| {100 * lapses:.0f} % | {cells} |"


def guessing_lines(count: int, rng: np.random.Generator) -> Iterator[str]:
    """Yield how often guessing is noticed, and how often listening is taken for it."""
    for answers in (20, 30, 60):
        guessed = [_guessed(answers, rng).standing for _ in range(count)]
        listened = [
            sharp_or_flat_results(a_listener(rng, lapses=0.08), after=(answers,), rng=rng)[answers]
            for _ in range(count)
        ]
        noticed = np.mean([each == "could not be measured" for each in guessed])
        wronged = np.mean([each.standing == "could not be measured" for each in listened])
        yield f"| {answers} | {noticed:.2f} | {wronged:.2f} |"


def milliseconds_per_trial() -> float:
    """Return the processor time that one trial takes, choosing its step and learning from it."""
    rng = np.random.default_rng(0)
    sharp_or_flat_results(SimulatedListener(threshold_cents=8.0), after=(60,), rng=rng)
    began = time.process_time()
    for _ in range(10):
        sharp_or_flat_results(SimulatedListener(threshold_cents=8.0), after=(60,), rng=rng)
    return (time.process_time() - began) / 600 * 1e3


def _guessed(answers: int, rng: np.random.Generator) -> EarEstimate:
    belief = belief_before(sharp_or_flat())
    for _ in range(answers):
        cents = next_deviation_cents(belief, rng)
        belief = belief_after(belief, deviation_cents=cents, first=bool(rng.random() < 0.5))
    return estimate(belief)


def _share_right(listener: SimulatedListener, step_cents: float) -> float:
    attentive = 0.5 * math.erfc(-step_cents / listener.blur_cents / math.sqrt(2.0))
    return listener.lapses / 2 + (1 - listener.lapses) * attentive


def _z(share: float) -> float:
    low, high = 0.0, 3.0
    for _ in range(50):
        middle = (low + high) / 2
        below = 0.5 * math.erfc(-middle / math.sqrt(2.0)) < share
        low, high = (middle, high) if below else (low, middle)
    return low


def _rms(errors: np.ndarray) -> float:
    return float(np.sqrt(np.mean(errors**2)))


def main(arguments: Sequence[str]) -> None:
    """Print every table, or the one whose title is given."""
    count, seed = map(int, (*arguments[:2], *("400", "1")[len(arguments) :]))
    rng = np.random.default_rng(seed)
    tables = {
        "adaptive": adaptive_lines,
        "further": further_lines,
        "staircase": staircase_lines,
        "guessing": guessing_lines,
    }
    for title in arguments[2:] or tables:
        print(title)
        for line in tables[title](count, rng):
            print(line, flush=True)
    print(f"{milliseconds_per_trial():.2f} ms per trial")


if __name__ == "__main__":
    main(sys.argv[1:])
