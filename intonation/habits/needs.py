"""Which notes want practice most, and whether it is their day."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from intonation.assessment.bands import EXCELLENT_CENTS
from intonation.diagnosis.parts import Interval
from intonation.habits.habit import Habits, NoteHabit
from intonation.habits.played import Played
from intonation.instruments.instrument import Instrument
from intonation.listening.plan import due_on

Reason = Literal["off", "unsteady", "seldom", "close"]

_HELD_ON_PURPOSE = 4
"""Who holds a note so often against a reference on one day has practised it (design judgement)."""

_UNSTEADY_WORTH = 0.3
_FEWEST_HELD = 5
_EDGE_SEMITONES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteNeed:
    """A note to practise.

    Parameters
    ----------
    midi
        The note.
    reason
        ``off``: it lies sharp or flat; ``unsteady``: it comes out differently each time;
        ``seldom``: it was held too seldom to know; ``close``: it is in tune, and least practised.
    usual, spread_cents
        Where it usually lies, and how much single notes differ, if that is known.
    days_since
        Days since it was practised against a reference; None if it never was.
    """

    midi: int
    reason: Reason
    usual: Interval | None = None
    spread_cents: float | None = None
    days_since: int | None = None


def needs_of(
    habits: Habits, played: Played, *, instrument: Instrument, today: date
) -> tuple[NoteNeed, ...]:
    """Return notes to practise, the one most in need first.

    Parameters
    ----------
    habits, played
        What is known, and what it is known from.
    instrument
        The player's.
    today
        The day. A note that was practised comes back after 1, 3, 7 and 16 days, see
        `intonation.listening.plan`; until then others go before it.
    """
    days = practised_days(played)
    far = [note for note in habits.spoken if _score(note) >= EXCELLENT_CENTS]
    far.sort(key=lambda note: -_score(note))
    due = [note for note in far if _is_due(days.get(note.midi, ()), today)]
    seldom = _seldom(habits, instrument)
    close = sorted((note for note in habits.spoken if note not in far), key=lambda n: n.count)
    order = [*due, *seldom, *(note for note in far if note not in due), *close]
    return tuple(_need(note, days.get(note.midi, ()), today) for note in order)


def practised_days(played: Played) -> dict[int, tuple[date, ...]]:
    """Return for every note the days on which it was practised against a reference."""
    chosen = played.reference & ~played.melody & ~np.isnan(played.day)
    pairs, counts = np.unique(
        np.stack([played.midi[chosen], played.day[chosen]], axis=1), axis=0, return_counts=True
    )
    days: dict[int, list[date]] = {}
    for (midi, day), count in zip(pairs.tolist(), counts.tolist(), strict=True):
        if count >= _HELD_ON_PURPOSE:
            days.setdefault(int(midi), []).append(date.fromordinal(int(day)))
    return {midi: tuple(sorted(found)) for midi, found in days.items()}


def _score(note: NoteHabit) -> float:
    """Return how far a note is off, with something added for coming out differently each time."""
    off = abs(note.usual.mean) if note.usual else 0.0
    unsteady = max(0.0, (note.spread_cents or 0.0) - EXCELLENT_CENTS)
    return off + _UNSTEADY_WORTH * unsteady


def _is_due(days: Sequence[date], today: date) -> bool:
    return not days or due_on(days) <= today


def _seldom(habits: Habits, instrument: Instrument) -> list[NoteHabit]:
    """Return notes of which too little is known, from the middle of the instrument outwards."""
    notes = instrument.notes_midi
    middle = (notes[0] + notes[-1]) / 2.0 - 1.0
    usual_compass = notes[: len(notes) - _EDGE_SEMITONES]
    known = {note.midi: note for note in habits.notes}
    few = [
        known.get(midi, NoteHabit(midi=midi, count=0, sittings=0, contexts={}))
        for midi in usual_compass
        if _is_plain(instrument, midi)
    ]
    few = [note for note in few if note.count < _FEWEST_HELD]
    return sorted(few, key=lambda note: (abs(note.midi - middle), note.midi))


def _is_plain(instrument: Instrument, midi: int) -> bool:
    """Whether a note is easy enough to begin with."""
    fingering = instrument.fingering(midi)
    return fingering is not None and fingering.kind == "plain"


def _need(note: NoteHabit, days: Sequence[date], today: date) -> NoteNeed:
    return NoteNeed(
        midi=note.midi,
        reason=_reason(note),
        usual=note.usual,
        spread_cents=note.spread_cents,
        days_since=(today - days[-1]).days if days else None,
    )


def _reason(note: NoteHabit) -> Reason:
    if note.usual is None:
        return "seldom"
    if abs(note.usual.mean) >= EXCELLENT_CENTS:
        return "off"
    return "unsteady" if _score(note) >= EXCELLENT_CENTS else "close"
