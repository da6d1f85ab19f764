"""How often the diagnosis is right, on simulated pairs. Run as a module; prints a table.

python -m tests.benchmarks.diagnosis_accuracy [PAIRS] [FIRST_SEED] [PASSES] [WORLD ...]
"""

import sys
import time
from collections.abc import Sequence

import numpy as np

from intonation.diagnosis.attribution import attribution_of
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.parts import HALF_WIDTH_90, Parts, parts_of
from intonation.diagnosis.verdict import ANSWERS, classified, probabilities, verdict_of
from tests.support.even_worlds import EVEN_WORLDS, evenly_checked
from tests.support.worlds import WORLDS, Truth, checked

COLUMNS = (
    "player", "instrument", "player mean", "instrument mean", "player sd", "instrument sd",
    "answer", "stated", "partly", *ANSWERS,
)  # fmt: skip


def judged(parts: Parts, truth: Truth) -> np.ndarray:
    """Return one line per note: truth, estimates and verdict, in the order of ``COLUMNS``."""
    lines = []
    for note, mixture in enumerate(parts.of_notes):
        mean_p, sd_p = mixture.moments(np.array([0.0, 1.0, 1.0]))
        mean_i, sd_i = mixture.moments(np.array([1.0, 0.0, 0.0]))
        chances = probabilities(parts.pairs_of(note))
        verdict = verdict_of(chances)
        partly = 1 if verdict.endswith("partly the instrument") else 2
        partly = partly if verdict.startswith("at least") else 0
        stated = ANSWERS.index(verdict) if verdict in ANSWERS else -1
        stated_chances = (chances.of(a) for a in ANSWERS)
        player, instrument = truth.player_cents[note], truth.instrument_cents[note]
        answer = int(classified(np.array(instrument), np.array(player), tolerance_cents=8.0))
        estimates = (mean_p, mean_i, sd_p, sd_i)
        lines.append((player, instrument, *estimates, answer, stated, partly, *stated_chances))
    return np.array(lines)


def figures(lines: np.ndarray) -> dict[str, float]:
    """Return the figures of merit of judged notes.

    A fault is clear if the note is at least 14 cents off, one side owns at least 10 in that
    direction and the other at most 4; ``alone`` are those where the other owns less than 4 either
    way, so that nothing hides the fault.
    """
    player, instrument, mean_p, mean_i, sd_p, sd_i, answer, stated, partly, *_ = lines.T
    total = player + instrument
    decided, blamed, off = stated >= 0, stated >= 1, answer >= 1
    swapped = ((stated == 1) & (answer == 2)) | ((stated == 2) & (answer == 1))
    middling = (np.abs(total) >= 14) & (np.abs(total) < 20)
    clear = np.abs(total) >= 14
    side = np.sign(total)
    owned = np.where(partly == 1, instrument, player) / total
    clear_i = clear & (side * instrument >= 10) & (side * player <= 4)
    clear_p = clear & (side * player >= 10) & (side * instrument <= 4)
    alone_i, alone_p = clear_i & (np.abs(player) <= 4), clear_p & (np.abs(instrument) <= 4)
    return {
        "rmse i": np.sqrt(np.mean((mean_i - instrument) ** 2)),
        "rmse p": np.sqrt(np.mean((mean_p - player) ** 2)),
        "cover i": np.mean(np.abs(mean_i - instrument) <= HALF_WIDTH_90 * sd_i),
        "cover p": np.mean(np.abs(mean_p - player) <= HALF_WIDTH_90 * sd_p),
        "decided": np.mean(decided),
        "right": np.mean(stated[decided] == answer[decided]),
        "blames": np.mean(blamed),
        "bl.right": np.mean(stated[blamed] == answer[blamed]),
        "swap %": 100 * np.mean(swapped),
        "clear i": np.mean(stated[clear_i] == 1),
        "clear p": np.mean(stated[clear_p] == 2),
        "n i": np.sum(clear_i),
        "n p": np.sum(clear_p),
        "alone i": np.mean(stated[alone_i] == 1),
        "alone p": np.mean(stated[alone_p] == 2),
        "clr swap": np.sum(swapped & (clear_i | clear_p)),
        "partly right": np.mean(owned[partly > 0] >= 0.25),
        "14-20": np.mean(blamed[middling] | (partly[middling] > 0)),
        "off": np.mean(off),
    }


def calibration(lines: np.ndarray) -> list[tuple[float, float, int]]:
    """Return, for bins of the best answer's probability, its mean, how often it is right, count."""
    chances, answer = lines[:, -len(ANSWERS) :], lines[:, 6]
    best = chances.max(axis=1)
    right = chances.argmax(axis=1) == answer
    bins = np.clip(((best - 0.4) / 0.1).astype(int), 0, 5)
    return [
        (float(best[bins == b].mean()), float(right[bins == b].mean()), int((bins == b).sum()))
        for b in range(6)
        if (bins == b).any()
    ]


def by_size(lines: np.ndarray) -> list[tuple[float, float, float, float]]:
    """Return shares of exact blames, partial ones, open notes, "in tune", by size of deviation."""
    total = np.abs(lines[:, 0] + lines[:, 1])
    stated, partly = lines[:, 7], lines[:, 8]
    table = []
    for low, high in ((8, 11), (11, 14), (14, 20), (20, 99)):
        here = (total >= low) & (total < high)
        exact, some = (stated[here] >= 1).mean(), (partly[here] > 0).mean()
        tune = (stated[here] == 0).mean()
        table.append((exact, some, 1.0 - exact - some - tune, tune))
    return table


def study(world: str, *, pairs: int, first_seed: int, passes: str) -> np.ndarray:
    """Return the judged notes of many pairs of a world."""
    lines = []
    for seed in range(first_seed, first_seed + pairs):
        if world in EVEN_WORLDS:
            rows, truth = evenly_checked(seed, EVEN_WORLDS[world], passes=passes)
        else:
            rows, truth = checked(seed, WORLDS[world], passes=passes)
        fit = attribution_of(evidence_from(rows))
        lines.append(judged(parts_of(fit, player=0, instrument=0), truth))
    return np.vstack(lines)


def main(arguments: Sequence[str]) -> None:
    """Print a line of figures for each world."""
    pairs, seed = (int(a) for a in (*arguments[:2], 40, 1000)[:2]) if arguments else (40, 1000)
    passes = arguments[2] if len(arguments) > 2 else "ABA"
    worlds = arguments[3:] or [*WORLDS, *EVEN_WORLDS]
    for world in worlds:
        began = time.perf_counter()
        lines = study(world, pairs=pairs, first_seed=seed, passes=passes)
        found = figures(lines)
        took = (time.perf_counter() - began) / pairs
        print(f"{world:10s}", " ".join(f"{k} {v:.3g}" for k, v in found.items()), f"{took:.2f} s")
        if world == "usual":
            for stated, right, count in calibration(lines):
                print(f"  stated {stated:.2f}  right {right:.2f}  notes {count}")
            for shares in by_size(lines):
                print("  exact, partly, open, in tune:", " ".join(f"{s:.2f}" for s in shares))


if __name__ == "__main__":
    main(sys.argv[1:])
