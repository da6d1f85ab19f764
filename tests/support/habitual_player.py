"""An invented player with known habits, and a record of them over weeks.

Every magnitude is invented for simulation. Single notes have heavier tails than the model takes
them to have, sittings differ as a whole and note by note, and a few notes are squeaks.
"""

from dataclasses import dataclass, field

import numpy as np

from intonation.habits.played import PlayedNote

FIRST_DAY = 741_700
ALTO = tuple(range(65, 92))


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueHabits:
    """What an invented player does, in cents.

    Parameters
    ----------
    usual
        Of each note of the alto, lowest first.
    per_four_weeks
        How much each note rises in four weeks; the usual place is that of the middle of the record.
    from_above, after_leap, with_reference, in_melodies, louder
        What each context adds; ``louder`` for 6 dB.
    sag
        Drift of long notes, in cents per second.
    within, between, shared
        Standard deviations: of notes, of a note from sitting to sitting, of whole sittings.
    """

    usual: tuple[float, ...] = (0.0,) * len(ALTO)
    per_four_weeks: tuple[float, ...] = (0.0,) * len(ALTO)
    from_above: float = 0.0
    after_leap: float = 0.0
    with_reference: float = 0.0
    in_melodies: float = 0.0
    louder: float = 0.0
    sag: float = 0.0
    within: float = 5.0
    between: float = 2.5
    shared: float = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """How much is played: sittings over days, notes in each."""

    sittings: int = 24
    days: int = 80
    notes: int = 60
    squeaks: float = 0.01
    melodies: float = 0.3
    references: float = 0.5
    compass: tuple[int, ...] = field(default=ALTO)


USUAL_PRACTICE = Practice()


def drawn_habits(rng: np.random.Generator, *, size: float = 6.0, **others: float) -> TrueHabits:
    """Return habits whose usual places are drawn."""
    usual = tuple(rng.normal(2.0, size, len(ALTO)).tolist())
    return TrueHabits(usual=usual, **others)  # type: ignore[arg-type]


def record_of(
    habits: TrueHabits, rng: np.random.Generator, practice: Practice = USUAL_PRACTICE
) -> list[PlayedNote]:
    """Return the notes of a player's sittings."""
    days = np.sort(rng.choice(practice.days, practice.sittings, replace=True))
    days[-1] = practice.days - 1
    notes: list[PlayedNote] = []
    for sitting, day in enumerate(days.tolist()):
        notes += _sitting(habits, rng, practice, sitting, day)
    return notes


def _sitting(
    habits: TrueHabits,
    rng: np.random.Generator,
    practice: Practice,
    sitting: int,
    day: int,
) -> list[PlayedNote]:
    count = practice.notes
    note = rng.choice(np.array(practice.compass) - ALTO[0], count)
    previous = np.concatenate([[-1], note[:-1]])
    moved = np.where(previous < 0, 0, note - previous)
    melody = rng.random(count) < practice.melodies
    reference = melody | (rng.random() < practice.references)
    louder = rng.normal(0.0, 3.0, count)
    middle = (day - practice.days / 2.0) / 28.0
    cents = np.array(habits.usual)[note] + middle * np.array(habits.per_four_weeks)[note]
    cents += habits.from_above * ((moved < 0) & (moved > -5))
    cents += habits.after_leap * (np.abs(moved) >= 5)
    cents += habits.with_reference * (reference & ~melody) + habits.in_melodies * melody
    cents += habits.louder * louder / 6.0
    cents += rng.normal(0.0, habits.shared) + rng.normal(0.0, habits.between, len(ALTO))[note]
    cents += habits.within * rng.standard_t(5, count) / (5 / 3) ** 0.5
    squeaks = rng.random(count) < practice.squeaks
    cents = np.where(squeaks, rng.uniform(-55.0, 55.0, count), cents)
    level = -22.0 + rng.normal(0.0, 4.0) + louder
    seconds = rng.uniform(1.5, 5.0, count)
    drift = habits.sag + rng.normal(0.0, 1.0) + rng.normal(0.0, 2.0, count)
    return [
        PlayedNote(
            sitting=sitting,
            day=FIRST_DAY + day,
            midi=ALTO[n],
            kind="melody" if m else "matched" if r else "natural",
            cents=c,
            level_db=x,
            drift_cents_per_s=d,
            duration_s=s,
            reference=r,
            blind=True,
            previous_midi=ALTO[p] if p >= 0 else None,
        )
        for n, p, m, r, c, x, d, s in zip(
            note.tolist(),
            previous.tolist(),
            melody.tolist(),
            reference.tolist(),
            cents.tolist(),
            level.tolist(),
            drift.tolist(),
            seconds.tolist(),
            strict=True,
        )
    ]
