"""How well habits are found in simulated records: ``python -m tests.benchmarks.habits_accuracy``.

For records of several lengths: root mean square error of each note's usual place beside that of its
plain mean, how often the 90 % intervals hold, and how often something is said of a player who does
nothing of the kind.
"""

from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from intonation.habits.finding import habits_of
from intonation.habits.habit import Habits, clear_contexts, is_clear
from intonation.habits.played import played_from
from tests.support.habitual_player import ALTO, Practice, drawn_habits, record_of

PLAYERS = 60
LENGTHS = {
    "one sitting": Practice(sittings=1, days=1, notes=200),
    "3 sittings in a week": Practice(sittings=3, days=7),
    "10 sittings in 3 weeks": Practice(sittings=10, days=21),
    "24 sittings in 80 days": Practice(sittings=24, days=80),
    "60 sittings in 80 days": Practice(sittings=60, days=80),
}
Tally = dict[str, list[float]]


def measured(practice: Practice, *, seed: int) -> Tally:
    """Return the tally over many players without contexts or trends."""
    tally: Tally = defaultdict(list)
    for player in range(PLAYERS):
        rng = np.random.default_rng([seed, player])
        habits = drawn_habits(rng)
        played = played_from(record_of(habits, rng, practice))
        found = habits_of(played)
        true = dict(zip(ALTO, habits.usual, strict=True))
        for note in found.spoken:
            assert note.usual is not None
            own = played.cents[played.midi == note.midi]
            tally["error"].append(note.usual.mean - true[note.midi])
            tally["plain error"].append(float(own.mean()) - true[note.midi])
            tally["inside"].append(note.usual.low <= true[note.midi] <= note.usual.high)
        if found.overall:
            overall = float(np.mean([true[note.midi] for note in found.spoken]))
            tally["overall inside"].append(found.overall.low <= overall <= found.overall.high)
        _false_claims(found, tally)
    return tally


def _false_claims(found: Habits, tally: Tally) -> None:
    for note in found.spoken:
        if note.trend:
            tally["trend inside"].append(note.trend.low <= 0.0 <= note.trend.high)
            tally["false trend"].append(is_clear(note.trend))
        for name, one in note.contexts.items():
            tally[f"{name} inside"].append(one.low <= 0.0 <= one.high)
        tally["false context"] += [name in clear_contexts(note.contexts) for name in note.contexts]
    if found.trend:
        tally["overall trend inside"].append(found.trend.low <= 0.0 <= found.trend.high)
    for name, one in found.contexts.items():
        tally[f"overall {name} inside"].append(one.low <= 0.0 <= one.high)


def found_share(practice: Practice, *, seed: int) -> float:
    """Return how often a player who plays 6 cents sharper from above is told so."""
    told = []
    for player in range(PLAYERS):
        rng = np.random.default_rng([seed, player])
        habits = drawn_habits(rng, from_above=6.0)
        found = habits_of(played_from(record_of(habits, rng, practice)))
        told.append("from above" in clear_contexts(found.contexts))
    return float(np.mean(told))


def lines() -> Iterator[str]:
    """Yield the table."""
    for name, practice in LENGTHS.items():
        tally = measured(practice, seed=1)
        yield name
        yield f"  {'told: 6 cents from above':32} {100 * found_share(practice, seed=2):6.1f} %"
        for key in sorted(tally):
            values = np.array(tally[key], dtype=float)
            if key.endswith("error"):
                yield f"  {key:32} rms {np.sqrt(np.mean(values**2)):6.2f} cents"
            else:
                yield f"  {key:32} {100 * values.mean():6.1f} %  ({len(values)})"


if __name__ == "__main__":
    for line in lines():
        print(line)
