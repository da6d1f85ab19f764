"""The instrument check: what to play next, what counts as played, how long it still takes.

Pass A is "as you always play", pass B "fingers exact: hold, then soft to loud". Notes come in
random order, so that neither warming up nor the note before can pass for a fault of a note.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from intonation.diagnosis.planned_tones import SWELL_SECONDS, TONE_SECONDS
from intonation.diagnosis.results import Experiment
from intonation.heldnotes.row import HeldNoteRow, Kind

PassName = Literal["A", "B"]
Length = Literal["short", "standard", "thorough"]
Form = Literal["short", "standard", "thorough", "again", "off and on"]
Outcome = Literal["played", "left out"]
Manner = Literal["as always", "held", "swelled"]
Fault = Literal["another note", "squeak", "too short", "too little swell"]

PASSES: dict[Length, tuple[PassName, ...]] = {
    "short": ("A", "B"),
    "standard": ("A", "B", "A"),
    "thorough": ("A", "B"),
}
"""Passes of one sitting; the thorough check asks for a second sitting on another day."""
SITTINGS: dict[Length, int] = {"short": 1, "standard": 1, "thorough": 2}

SHORTEST_TONE_S = 1.5
LEAST_SWELL_DB = 4.0
FEWEST_SWELL_STEPS = 3
SQUEAK_CENTS = 75.0
"""What a tone and a swell must have to be measured (design judgement)."""
OFF_AND_ON_PASSES, TONES_EACH = 4, 2
"""Off, on, off, on; each note so often in each (cf. docs/how-it-works/diagnosis.md)."""
MOST_TRIES = 3
"""A note that has failed so often is left out; the diagnosis then says what it lacks."""

_C_MAJOR = (0, 2, 4, 5, 7, 9, 11)
_SHORT_NOTES = 15


@dataclass(frozen=True, slots=True)
class AskedTone:
    """One tone that the player is asked for.

    Parameters
    ----------
    midi
        Which note.
    manner
        How it is to be played.
    number
        Running number of the asking: whatever answers an earlier one comes too late.
    """

    midi: int
    manner: Manner
    number: int = 0


@dataclass(frozen=True, slots=True)
class CheckStep:
    """One note to be played: in which pass (counted from 0), how, and its place in the check."""

    pass_number: int
    pass_name: PassName
    midi: int
    place: int = 0

    @property
    def seconds(self) -> float:
        """How long it usually takes, with its pause."""
        return TONE_SECONDS if self.pass_name == "A" else SWELL_SECONDS

    @property
    def manners(self) -> tuple[Manner, ...]:
        """The tones that it takes, in order."""
        return ("as always",) if self.pass_name == "A" else ("held", "swelled")


KINDS: dict[Manner, Kind] = {
    "as always": "natural",
    "held": "careful",
    "swelled": "careful-swell",
}
"""Kind of the rows that each manner gives."""


@dataclass(frozen=True, slots=True)
class Check:
    """A check under way; every change gives a new one.

    Parameters
    ----------
    ahead
        Steps still to be played, in order; the first is the present one.
    done
        How many steps are settled: played or left out.
    left_out
        Steps that were skipped, or failed too often.
    tries
        How often the steps that failed have failed.
    """

    ahead: tuple[CheckStep, ...]
    done: int = 0
    left_out: tuple[CheckStep, ...] = ()
    tries: tuple[tuple[CheckStep, int], ...] = ()

    @property
    def step(self) -> CheckStep | None:
        """What to play now; None when the check is finished."""
        return self.ahead[0] if self.ahead else None

    @property
    def share_done(self) -> float:
        """Share of the steps that are settled, 0 to 1."""
        total = self.done + len(self.ahead)
        return self.done / total if total else 1.0

    @property
    def minutes_left(self) -> float:
        """How long the rest usually takes."""
        return sum(step.seconds for step in self.ahead) / 60.0


def notes_of(length: Length, compass: Sequence[int]) -> tuple[int, ...]:
    """Return the notes of a check on an instrument with that compass.

    The short form has natural notes from the bottom up, two octaves of them, so that each has its
    octave; the others have every note.
    """
    if length != "short":
        return tuple(sorted(compass))
    return tuple(midi for midi in sorted(compass) if midi % 12 in _C_MAJOR)[:_SHORT_NOTES]


def new_check(length: Length, compass: Sequence[int], rng: np.random.Generator) -> Check:
    """Return a check from its beginning.

    Parameters
    ----------
    length
        How thorough.
    compass
        Sounding notes of the instrument, as MIDI numbers.
    rng
        Decides the order.
    """
    notes = notes_of(length, compass)
    return _in_passes([(name, notes) for name in PASSES[length]], rng)


def _in_passes(passes: Iterable[tuple[PassName, Sequence[int]]], rng: np.random.Generator) -> Check:
    steps: list[CheckStep] = []
    for number, (name, notes) in enumerate(passes):
        for midi in rng.permutation(np.array(notes, dtype=int)).tolist():
            steps.append(CheckStep(number, name, midi, len(steps)))
    return Check(tuple(steps))


def off_and_on(notes: Sequence[int], rng: np.random.Generator) -> Check:
    """Return the check of a change that is taken out and put back: off, on, off, on."""
    steps: list[CheckStep] = []
    for number in range(OFF_AND_ON_PASSES):
        for _ in range(TONES_EACH):
            for midi in rng.permutation(np.array(notes, dtype=int)).tolist():
                steps.append(CheckStep(number, "A", midi, len(steps)))
    return Check(tuple(steps))


def check_of(
    form: Form, compass: Sequence[int], rng: np.random.Generator, *, notes: Sequence[int] = ()
) -> Check:
    """Return a check of some form from its beginning; only one off and on has chosen notes."""
    if form == "off and on":
        return off_and_on(notes, rng)
    return new_check("short" if form == "again" else form, compass, rng)


def resumed(steps: Sequence[CheckStep], outcomes: Mapping[int, Outcome]) -> Check:
    """Return a check that was broken off.

    Parameters
    ----------
    steps
        Every step, in order.
    outcomes
        Of those that are settled, by their place.
    """
    left_out = tuple(step for step in steps if outcomes.get(step.place) == "left out")
    ahead = tuple(step for step in steps if step.place not in outcomes)
    return Check(ahead, done=len(steps) - len(ahead), left_out=left_out)


def fault_of(
    asked: AskedTone, rows: Sequence[HeldNoteRow], *, duration_s: float | None = None
) -> Fault | None:
    """Return why what was played does not count; None if it does.

    Parameters
    ----------
    asked
        What was asked for.
    rows
        What was heard: one row, or those of a swell.
    duration_s
        Length of the tone, if known.
    """
    if not rows or (duration_s is not None and duration_s < SHORTEST_TONE_S):
        return "too short"
    if any(row.midi != asked.midi for row in rows):
        return "another note"
    if asked.manner == "swelled":
        return _swell_fault(rows)
    return "squeak" if any(abs(row.cents) > SQUEAK_CENTS for row in rows) else None


def _swell_fault(swell: Sequence[HeldNoteRow]) -> Fault | None:
    if len(swell) < FEWEST_SWELL_STEPS:
        return "too short"
    levels = [row.level_db for row in swell if row.level_db is not None]
    narrow = bool(levels) and max(levels) - min(levels) < LEAST_SWELL_DB
    return "too little swell" if narrow else None


def after_playing(check: Check, fault: Fault | None) -> Check:
    """Return the check after the present step: settled, or asked again.

    What was too short is asked again at once, as often as it takes; anything else at the end of
    its pass, so that the note does not follow itself.
    """
    step = check.step
    if step is None or fault == "too short":
        return check
    if fault is None:
        return replace(check, ahead=check.ahead[1:], done=check.done + 1)
    tries = dict(check.tries)
    tries[step] = tries.get(step, 0) + 1
    failed = replace(check, tries=tuple(tries.items()))
    return skipped(failed) if tries[step] >= MOST_TRIES else _put_off(failed)


def skipped(check: Check) -> Check:
    """Return the check with the present step left out."""
    if check.step is None:
        return check
    left_out = (*check.left_out, check.step)
    return replace(check, ahead=check.ahead[1:], done=check.done + 1, left_out=left_out)


def _put_off(check: Check) -> Check:
    step, rest = check.ahead[0], check.ahead[1:]
    same_pass = sum(other.pass_number == step.pass_number for other in rest)
    return replace(check, ahead=(*rest[:same_pass], step, *rest[same_pass:]))


def measure_again(experiments: Mapping[int, Experiment], rng: np.random.Generator) -> Check:
    """Return a small check of the experiments that would settle some notes, by note."""
    usual = [m for m, what in experiments.items() for _ in range(_USUAL_TONES.get(what, 0))]
    exact = [m for m, what in experiments.items() if what.endswith("careful-swell")]
    return _in_passes([("A", usual), ("B", exact)], rng)


_USUAL_TONES: dict[Experiment, int] = {"natural": 2, "natural and careful-swell": 1}
