"""Ten years of a music school: many players and instruments, drawn in bulk with known truth.

Magnitudes are invented for simulation. The same invented players and instruments as in ``worlds``.
"""

from dataclasses import dataclass

import numpy as np

from intonation.heldnotes.row import HeldNoteRow
from tests.support.worlds import (
    CHROMATIC,
    USUAL,
    Instrument,
    Player,
    Truth,
    World,
    fingering_of,
    made_instrument,
    made_player,
    truth_of,
)

_TONES = 14
_SWELL_STEPS = 7


@dataclass(frozen=True, slots=True)
class LargeStore:
    """Rows of a store and the truth of every pair, by names of player and instrument."""

    rows: list[HeldNoteRow]
    truths: dict[tuple[str, str], Truth]


def large_store(
    seed: int, *, players: int, instruments: int, notes: int, world: World = USUAL
) -> LargeStore:
    """Return a store in which each player uses four instruments, and about ``notes`` held notes."""
    rng = np.random.default_rng(seed)
    people = [made_player(rng, world, f"player {i + 1}") for i in range(players)]
    things = [made_instrument(rng, world, f"instrument {i + 1}") for i in range(instruments)]
    rows: list[HeldNoteRow] = []
    truths = {}
    sittings = max(1, round(notes / (_TONES * players * min(4, instruments))))
    for player in people:
        for k in rng.choice(instruments, min(4, instruments), replace=False):
            truths[player.name, things[k].name] = truth_of(player, things[k], CHROMATIC)
            for sitting in range(sittings):
                rows += _sitting(rng, world, player, things[k], sitting, len(rows))
    return LargeStore(rows, truths)


def _sitting(
    rng: np.random.Generator,
    world: World,
    player: Player,
    instrument: Instrument,
    number: int,
    first: int,
) -> list[HeldNoteRow]:
    """Return a sitting of plain tones; the first two of a pair, and every tenth, have swells."""
    compass = len(CHROMATIC)
    checked = number < 2 or number % 25 == 0
    note = rng.permutation(compass) if checked else rng.integers(0, compass, _TONES)
    exact = np.zeros(len(note), dtype=bool)
    step = np.full(len(note), -1)
    if checked:
        swelled = np.repeat(rng.permutation(compass), 1 + _SWELL_STEPS)
        note = np.concatenate([note, swelled])
        step = np.concatenate([step, np.tile(np.arange(-1, _SWELL_STEPS), compass)])
        exact = np.concatenate([exact, np.ones(len(swelled), dtype=bool)])
    count = len(note)
    slope, bend = instrument.cents_per_db[note], instrument.bend[note]
    softer = player.compensation * instrument.offset_cents[note] / slope
    breath = player.breath_db[note] - instrument.range_middle_db[note] - softer
    breath = breath + rng.normal(0.0, 0.7) + world.repeat_db * rng.normal(size=count)
    middle = player.swell_db + world.middle_db * rng.normal(size=compass)[note]
    along = 8.5 * (step / (_SWELL_STEPS - 1) - 0.5)
    breath = np.where(step >= 0, middle + along, breath)
    again = 0.25 * world.habit * rng.normal(size=compass)[note]
    fingers = np.where(exact, player.exact_share * player.habit_cents[note] + again, 0.0)
    fingers = np.where(exact, fingers, player.habit_cents[note])
    bent = slope * 8.0 * np.tanh(breath / 8.0) - slope * bend * breath**2 / 2.0
    minutes = 1.0 + np.arange(count) * 7.0 / 60.0
    cents = instrument.offset_cents[note] + fingers + bent + rng.normal(0.0, 5.0)
    cents += world.day_cents * rng.normal(size=compass)[note] - 7.0 * np.exp(-minutes / 5.0)
    cents += world.pitch_cents * rng.normal(size=count)
    slips = (rng.random(count) < world.slips) & (step < 0)
    cents[slips] += rng.choice([-180.0, -60.0, 45.0, 90.0], count)[slips]
    place = instrument.loudness_db + instrument.range_middle_db + rng.normal(0, 1.2, compass)
    level = rng.normal(-22.0, 4.0) + place[note] + breath + rng.normal(0.0, 0.3, count)
    kinds = np.where(step >= 0, "careful-swell", np.where(exact, "careful", "natural"))
    session = f"{player.name}, {instrument.name}, {number}"
    return [
        HeldNoteRow(
            event=first + i,
            player=player.name,
            instrument=instrument.name,
            session=session,
            midi=CHROMATIC[n],
            fingering=fingering_of(CHROMATIC[n]),
            kind=kind,
            minutes=m,
            cents=c,
            level_db=x,
            swell=f"{session}, {n}" if s >= 0 else None,
            swell_step=s if s >= 0 else None,
        )
        for i, (n, kind, m, c, x, s) in enumerate(
            zip(
                note.tolist(),
                kinds.tolist(),
                minutes.tolist(),
                cents.tolist(),
                level.tolist(),
                step.tolist(),
                strict=True,
            )
        )
    ]
