"""From played notes to a player's habits."""

from datetime import date

import numpy as np

from intonation.diagnosis.parts import interval
from intonation.habits.contexts import ContextName, contexts_of
from intonation.habits.habit import FEWEST_HELD, Habits, NoteHabit, UsualNote, Week
from intonation.habits.played import Array, Numbers, Played
from intonation.habits.pooling import Pooled, pooled
from intonation.habits.scatter import PITCH, Readings, readings_from, robust_spread
from intonation.habits.slopes import means_by_note, slopes_by_note

FOUR_WEEKS = 28.0
_FEWEST_DAYS_OF_TREND = 4
_SHORTEST_TREND_DAYS = 14.0
_WEEK = 7


def habits_of(played: Played) -> Habits:
    """Return what the notes of one player on one instrument tell.

    Parameters
    ----------
    played
        The notes that count. How far back they go decides what "usually" means.

    Notes
    -----
    Every estimate is drawn towards what all notes have in common as far as it is uncertain, and
    comes with a 90 % interval. Nothing is said of a note that was held fewer than five times, of a
    context with fewer than four notes on either side, or of a trend over less than two weeks.
    """
    if not len(played):
        return Habits(contexts={})
    pitch, counts = _pitch_and_counts(played)
    usual = _usual(pitch, counts)
    trend = _trend(played, pitch, counts)
    contexts = contexts_of(played, pitch)
    days = played.day[~np.isnan(played.day)]
    return Habits(
        notes=tuple(
            _note(played, pitch, index, usual, trend, contexts)
            for index in range(len(played.notes))
        ),
        count=len(played),
        sittings=int(played.sitting.max()) + 1,
        first_day=date.fromordinal(int(days.min())) if days.size else None,
        last_day=date.fromordinal(int(days.max())) if days.size else None,
        overall=usual.centre,
        trend=trend.centre,
        contexts={name: one.centre for name, one in contexts.items() if one.centre is not None},
    )


def usual_notes(played: Played) -> tuple[UsualNote, ...]:
    """Return where every note usually lies, the lowest first, as the habits have it.

    Notes
    -----
    A note that was held too seldom for the habits to speak of stands by itself: its own mean, with
    the doubt that is left by so few notes and sittings.
    """
    if not len(played):
        return ()
    pitch, counts = _pitch_and_counts(played)
    usual, (mean, variance) = _usual(pitch, counts), means_by_note(pitch)
    return tuple(
        UsualNote(
            midi=midi,
            usual=usual.of(index) or interval(float(mean[index]), float(variance[index]) ** 0.5),
            spread_cents=_spread(played.cents[played.note == index]),
            count=int(counts[index]),
        )
        for index, midi in enumerate(played.notes)
    )


def _pitch_and_counts(played: Played) -> tuple[Readings, Numbers]:
    pitch = readings_from(
        played.cents,
        note=played.note,
        sitting=played.sitting,
        notes=len(played.notes),
        usual=PITCH,
    )
    return pitch, np.bincount(played.note, minlength=len(played.notes))


def _spread(cents: Array) -> float:
    if len(cents) >= FEWEST_HELD:
        return robust_spread(cents)
    return float(np.std(cents, ddof=1)) if len(cents) > 1 else 0.0


def _usual(pitch: Readings, counts: Numbers) -> Pooled:
    mean, variance = means_by_note(pitch)
    unknown = np.where(counts >= FEWEST_HELD, 0.0, np.nan)
    return pooled(mean + unknown, variance + unknown, shared=pitch.shared)


def _trend(played: Played, pitch: Readings, counts: Numbers) -> Pooled:
    """Return the change over four weeks of notes that were held on several days of some weeks."""
    known = played.day[~np.isnan(played.day)]
    day = np.nan_to_num(played.day, nan=known.max(initial=0.0))
    slope, variance = slopes_by_note(pitch, (day - day.max()) / FOUR_WEEKS)
    unknown = np.full(len(played.notes), np.nan)
    for note in range(len(played.notes)):
        days = np.unique(played.day[(played.note == note) & ~np.isnan(played.day)])
        if days.size >= _FEWEST_DAYS_OF_TREND and np.ptp(days) >= _SHORTEST_TREND_DAYS:
            unknown[note] = 0.0
    unknown[counts < FEWEST_HELD] = np.nan
    return pooled(slope + unknown, variance + unknown, shared=pitch.shared)


def _note(
    played: Played,
    pitch: Readings,
    index: int,
    usual: Pooled,
    trend: Pooled,
    contexts: dict[ContextName, Pooled],
) -> NoteHabit:
    own = played.note == index
    count = int(own.sum())
    found = {name: one.of(index) for name, one in contexts.items()}
    return NoteHabit(
        midi=played.notes[index],
        count=count,
        sittings=len(np.unique(played.sitting[own])),
        usual=usual.of(index),
        spread_cents=robust_spread(played.cents[own]) if count >= FEWEST_HELD else None,
        trend=trend.of(index),
        contexts={name: one for name, one in found.items() if one is not None},
        weeks=_weeks(played, pitch, index),
    )


def _weeks(played: Played, pitch: Readings, index: int) -> tuple[Week, ...]:
    """Return a note week by week; a week's doubt is that of its sittings."""
    own = np.flatnonzero((played.note == index) & ~np.isnan(played.day))
    # ordinal 1 was a Monday
    week = ((played.day[own] - 1.0) // _WEEK).astype(np.intp)
    return tuple(_week(int(one), own[week == one], pitch) for one in np.unique(week).tolist())


def _week(number: int, places: Numbers, pitch: Readings) -> Week:
    groups, counts = np.unique(pitch.group[places], return_counts=True)
    place_of = np.searchsorted(groups, pitch.group[places])
    means = np.bincount(place_of, weights=pitch.value[places]) / counts
    variance = pitch.between + pitch.within[pitch.note[places[0]]] / counts
    weight = 1.0 / variance
    mean = float((weight * means).sum() / weight.sum())
    return Week(
        date.fromordinal(number * _WEEK + 1),
        len(places),
        interval(mean, float(weight.sum()) ** -0.5),
    )
