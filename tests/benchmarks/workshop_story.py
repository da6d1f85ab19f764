"""How often a faulty alto is led from measurement to cause, reversible work and proof. Run by hand.

``python -m tests.benchmarks.workshop_story``
"""

import argparse
import time
from datetime import UTC, datetime, timedelta

import numpy as np

from intonation.engine.workbench import Workbench
from intonation.store.store import Store
from tests.support.faulty_alto import NAME, PLAYER, faulty_alto

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)


def story(seed: int, passes: str) -> dict[str, float]:
    """Return what came of one instrument."""
    alto = faulty_alto(seed, wide_cents=24.0)
    with Store(None) as store:
        bench = Workbench(store, lambda: EVENING + timedelta(hours=2), {NAME: "alto"})
        for row in alto.check("first day", passes):
            store.add_held_note(row, held_at=EVENING)
        began = time.perf_counter()
        found = bench.examine(PLAYER, NAME)
        examining_s = time.perf_counter() - began
        assert found is not None
        named = [(e.cause.kind, e.cause.finger) for e in found.ranked[:2]]
        work = next(work for work in found.works if work.reversible)
        bench.log(PLAYER, NAME, work)
        alto.alter(work.alterations)
        for row in alto.check("second day", passes):
            store.add_held_note(row, held_at=EVENING + timedelta(days=1))
        (trial,) = bench.trials()
        began = time.perf_counter()
        proof = bench.prove(trial)
        proving_s = time.perf_counter() - began
    strength = proof.strength
    assert strength is not None
    return {
        "octaves among first two": ("octaves", None) in named,
        "finger 4 among first two": any(finger == "4" for _, finger in named),
        "both": ("octaves", None) in named and any(finger == "4" for _, finger in named),
        "predicted within 20 c": work.after_window_cents <= 20.0,
        "window now": work.before_window_cents,
        "window truly": float(np.ptp(alto.instrument.offset_cents)),
        "window predicted": work.after_window_cents,
        "proven": strength.low > 0.3,
        "strength": strength.mean,
        "interval covers 1": strength.low <= 1.0 <= strength.high,
        "notes as predicted": float(np.mean([bool(n.as_predicted) for n in proof.notes])),
        "side effects": len(proof.side_effects),
        "examining s": examining_s,
        "proving s": proving_s,
    }


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--instruments", type=int, default=20)
    parser.add_argument("--passes", default="ABA")
    arguments = parser.parse_args()
    told = [story(seed, arguments.passes) for seed in range(arguments.instruments)]
    for name in told[0]:
        print(f"{name}: {np.mean([one[name] for one in told]):.2f}")


if __name__ == "__main__":
    main()
