"""What asking once more for doubtful notes is worth, on simulated pairs. Run as a module.

python -m tests.benchmarks.confirming_accuracy [PAIRS] [FIRST_SEED] [PASSES] [WORLD ...]
"""

import sys
from collections.abc import Sequence

import numpy as np

from intonation.diagnosis.attribution import attribution_of
from intonation.diagnosis.confirming import doubtful_notes
from intonation.diagnosis.evidence import evidence_from
from intonation.diagnosis.parts import parts_of
from intonation.heldnotes.row import HeldNoteRow
from tests.benchmarks.diagnosis_accuracy import figures, judged
from tests.support.worlds import (
    NATURAL,
    WORLDS,
    Sitting,
    Truth,
    made_instrument,
    made_player,
    truth_of,
)


def study(
    world: str, *, pairs: int, first_seed: int, passes: str
) -> tuple[np.ndarray, np.ndarray, float]:
    """Return the judged notes without and with confirming, and the notes asked for a pair."""
    lines: tuple[list[np.ndarray], list[np.ndarray]] = [], []
    asked = 0
    for seed in range(first_seed, first_seed + pairs):
        rng, kind = np.random.default_rng(seed), WORLDS[world]
        player, instrument = made_player(rng, kind), made_instrument(rng, kind)
        sitting = Sitting(kind, rng, player, instrument, "s", minutes=12.0).begin()
        for letter in passes:
            sitting.play_pass(letter, NATURAL)
        truth = truth_of(player, instrument, NATURAL)
        lines[0].append(_judged(sitting.rows, truth))
        more = doubtful_notes(sitting.rows)
        for midi in more:
            sitting.play(midi)
        asked += len(more)
        lines[1].append(_judged(sitting.rows, truth))
    return np.vstack(lines[0]), np.vstack(lines[1]), asked / pairs


def _judged(rows: Sequence[HeldNoteRow], truth: Truth) -> np.ndarray:
    fit = attribution_of(evidence_from(rows))
    return judged(parts_of(fit, player=0, instrument=0), truth)


def main(arguments: Sequence[str]) -> None:
    """Print two lines of figures for each world: without, and with confirming."""
    pairs, seed = (int(a) for a in (*arguments[:2], 40, 1000)[:2]) if arguments else (40, 1000)
    passes = arguments[2] if len(arguments) > 2 else "AB"
    for world in arguments[3:] or ("usual", "bold"):
        without, confirmed, asked = study(world, pairs=pairs, first_seed=seed, passes=passes)
        for name, lines in (("once", without), (f"+{asked:.1f} notes", confirmed)):
            told = " ".join(f"{k} {v:.3g}" for k, v in figures(lines).items())
            print(f"{world:8s} {name:10s} {told}")


if __name__ == "__main__":
    main(sys.argv[1:])
