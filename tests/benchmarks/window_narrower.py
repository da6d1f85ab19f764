"""How often a change of the window is found: simulated altos, with nothing done, and with work.

``python -m tests.benchmarks.window_narrower --instruments 8``
"""

import argparse

import numpy as np

from intonation.diagnosis.parts import Interval
from intonation.workshop.window_change import window_change
from tests.support.faulty_alto import faulty_alto, pattern


def judged(seed: int, *, worked_on: bool) -> tuple[str, float, float, float]:
    """Return the verdict on one alto, the true width after, and the interval about it."""
    alto = faulty_alto(seed, wide_cents=24.0)
    rows = alto.check("before", "ABA")
    if worked_on:  # two thirds of either fault are mended
        alto.altered_cents = -16.0 * pattern("octaves") + 12.0 * pattern("hole size", "4")
    rows += alto.check("after", "ABA")
    found = window_change(rows, before={"before"}, after={"after"})
    assert found is not None
    true_cents = float(np.ptp(alto.instrument.offset_cents + alto.altered_cents))
    after: Interval = found.after
    return found.verdict, true_cents, after.low, after.high


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--instruments", type=int, default=8)
    seeds = range(1, parser.parse_args().instruments + 1)
    for worked_on in (False, True):
        told = [judged(seed, worked_on=worked_on) for seed in seeds]
        verdicts = [verdict for verdict, *_ in told]
        covered = np.mean([low <= true <= high for _, true, low, high in told])
        counted = {verdict: verdicts.count(verdict) for verdict in sorted(set(verdicts))}
        print(f"worked on: {worked_on}; {counted}; interval covers the truth {covered:.0%}")


if __name__ == "__main__":
    main()
