"""Today's practice: what to do for ten, twenty or thirty minutes, in which order, and why.

Things alternate, and what wants most practice comes back later in the plan rather than twice at
once: interleaved practice was at least as good a day later for advanced clarinettists (C. E. Carter
& J. A. Grahn, Front. Psychol. 7 (2016) 1251).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from intonation.errors import SettingsError
from intonation.exercise.fitting import semitones_to_fit
from intonation.exercise.pieces import Exercise
from intonation.habits.ear_needs import EarNeed
from intonation.habits.needs import NoteNeed
from intonation.instruments.instrument import Instrument

Kind = Literal["long tones", "intervals", "note", "ear", "melody"]
Choice = NoteNeed | EarNeed | Exercise

LENGTHS = (10, 20, 30)
"""Minutes of a plan."""

_INTERVAL_KINDS = ("unison", "octave", "fifth", "third", "octave pairs")
_APART_SEMITONES = 3
_MELODIES_IN_TURN = 3

_Slot = tuple[Kind, int, float]
_SLOTS: dict[int, tuple[_Slot, ...]] = {
    10: (
        ("long tones", 0, 1.5),
        ("note", 0, 1.5),
        ("ear", 0, 3.0),
        ("note", 1, 1.5),
        ("melody", 0, 2.5),
    ),
    20: (
        ("long tones", 0, 2.0),
        ("note", 0, 2.0),
        ("intervals", 0, 3.0),
        ("note", 1, 2.0),
        ("ear", 0, 4.0),
        ("note", 0, 2.0),
        ("note", 1, 2.0),
        ("melody", 0, 3.0),
    ),
    30: (
        ("long tones", 0, 3.0),
        ("note", 0, 2.0),
        ("intervals", 0, 4.0),
        ("note", 1, 2.0),
        ("ear", 0, 5.0),
        ("note", 0, 2.0),
        ("intervals", 1, 4.0),
        ("note", 1, 2.0),
        ("melody", 0, 6.0),
    ),
}
"""For each length: what is done, the first or second choice of its kind, and for how many minutes
(common practice of lesson plans, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing to do.

    Parameters
    ----------
    kind
        What sort of thing it is.
    minutes
        About how long.
    choice
        The note, the ear drill or the exercise.
    again
        Whether it was in the plan before.
    with_notes
        Of a melody, the notes of the plan that occur in it.
    """

    kind: Kind
    minutes: float
    choice: Choice
    again: bool = False
    with_notes: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Choices:
    """What there is to choose from.

    Parameters
    ----------
    of
        For each kind of step, the best first.
    instrument
        The player's.
    days_away
        Days since the player last played it; None if that is not known.
    """

    of: Mapping[Kind, tuple[Choice, ...]]
    instrument: Instrument
    days_away: int | None = None

    @property
    def from_nothing(self) -> bool:
        """Whether nothing is known of the player's notes."""
        notes = [each for each in self.of["note"] if isinstance(each, NoteNeed)]
        return all(note.reason == "seldom" for note in notes)


def choices_for(
    *,
    notes: Sequence[NoteNeed],
    ear: Sequence[EarNeed],
    exercises: Sequence[Exercise],
    instrument: Instrument,
    turn: int,
    days_away: int | None = None,
) -> Choices:
    """Return what a plan can be made of.

    Parameters
    ----------
    notes, ear
        Notes and ear drills, the one most in need first.
    exercises
        The library, in the order in which one learns to hear.
    instrument
        The player's; what does not fit it is left out.
    turn
        Number of the day: exercises that suit equally well take turns.
    days_away
        As on the result.
    """
    fitting = [exercise for exercise in exercises if _played_on(exercise, instrument)]
    wanted = tuple(note.midi for note in notes[:2])
    melodies = _in_turn([one for one in fitting if one.kind == "melody"], turn)
    melodies.sort(key=lambda one: -_share(one, instrument, wanted))
    best = _in_turn(melodies[:_MELODIES_IN_TURN], turn)
    intervals = [one for one in fitting if one.kind in _INTERVAL_KINDS]
    return Choices(
        {
            "long tones": tuple(_in_turn([o for o in fitting if o.kind == "long tones"], turn)),
            "intervals": tuple(_in_turn(intervals, turn)),
            "note": _apart(notes),
            "ear": tuple(ear),
            "melody": (*best, *melodies[_MELODIES_IN_TURN:]),
        },
        instrument,
        days_away,
    )


def plan_of(choices: Choices, *, minutes: int) -> tuple[Step, ...]:
    """Return the steps of a plan of ten, twenty or thirty minutes.

    Where there is nothing to choose from, as of notes on an empty record, the step is left out.
    """
    steps: list[Step] = []
    for kind, number, length in _SLOTS[minutes]:
        offered = choices.of[kind]
        if number < len(offered):
            choice = offered[number]
            again = any(step.choice == choice for step in steps)
            steps.append(Step(kind=kind, minutes=length, choice=choice, again=again))
    return _with_notes(steps, choices.instrument)


def another(plan: Sequence[Step], place: int, choices: Choices) -> tuple[Step, ...]:
    """Return a plan with the next choice in one place, and wherever the same thing comes again."""
    step = plan[place]
    offered = choices.of[step.kind]
    used = {id(one.choice) for one in plan if one.choice != step.choice}
    start = offered.index(step.choice)
    following = [offered[(start + n) % len(offered)] for n in range(1, len(offered))]
    chosen = next((one for one in following if id(one) not in used), step.choice)
    changed = [replace(one, choice=chosen) if one.choice == step.choice else one for one in plan]
    return _with_notes(changed, choices.instrument)


def without(plan: Sequence[Step], place: int) -> tuple[Step, ...]:
    """Return a plan without one of its steps."""
    return (*plan[:place], *plan[place + 1 :])


def _with_notes(steps: Sequence[Step], instrument: Instrument) -> tuple[Step, ...]:
    """Return steps whose melodies know which of the plan's notes they have."""
    wanted = dict.fromkeys(step.choice.midi for step in steps if isinstance(step.choice, NoteNeed))
    return tuple(
        replace(step, with_notes=_those_in(step.choice, instrument, tuple(wanted)))
        if step.kind == "melody" and isinstance(step.choice, Exercise)
        else step
        for step in steps
    )


def _those_in(exercise: Exercise, instrument: Instrument, wanted: Sequence[int]) -> tuple[int, ...]:
    played = _played_on(exercise, instrument)
    return tuple(midi for midi in wanted if midi in played)


def _share(exercise: Exercise, instrument: Instrument, wanted: Sequence[int]) -> int:
    """Return how many of the wanted notes an exercise has."""
    return len(_those_in(exercise, instrument, wanted))


def _played_on(exercise: Exercise, instrument: Instrument) -> frozenset[int]:
    """Return the notes of an exercise on an instrument; none if it does not fit."""
    written = {
        note.midi for phrase in exercise.phrases for note in phrase.notes if note.midi is not None
    }
    try:
        move = semitones_to_fit(
            (min(written), max(written)),
            written_from=exercise.written_from,
            lowest_midi=instrument.lowest_midi,
            highest_midi=instrument.highest_midi,
        )
    except SettingsError:
        return frozenset()
    return frozenset(midi + move for midi in written)


def _in_turn(exercises: Sequence[Exercise], turn: int) -> list[Exercise]:
    start = turn % len(exercises) if exercises else 0
    return [*exercises[start:], *exercises[:start]]


def _apart(notes: Sequence[NoteNeed]) -> tuple[NoteNeed, ...]:
    """Return notes whose first two lie apart, so that two different fingerings alternate."""
    if len(notes) < 3:
        return tuple(notes)
    first, *others = notes
    second = next(
        (one for one in others if abs(one.midi - first.midi) >= _APART_SEMITONES), others[0]
    )
    return (first, second, *(one for one in others if one is not second))
