"""The instrument check: what to play next, what counts as played, how long it still takes.

Pass A is "as you always play", pass B "fingers exact: hold, then soft to loud". Notes come in
random order, so that neither warming up nor the note before can pass for a fault of a note.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from intonation.diagnosis.planned_tones import SWELL_SECONDS, TONE_SECONDS
from intonation.heldnotes.row import HeldNoteRow, Kind

PassName = Literal["A", "B"]
Length = Literal["short", "standard", "thorough"]
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
MOST_TRIES = 3
"""A note that has failed so often is left out; the diagnosis then says what it lacks."""

_C_MAJOR = (0, 2, 4, 5, 7, 9, 11)
_SHORT_NOTES = 15


@dataclass(frozen=True, slots=True)
class CheckStep:
    """One note to be played: in which pass (counted from 0) and how."""

    pass_number: int
    pass_name: PassName
    midi: int

    @property
    def seconds(self) -> float:
        """How long it usually takes, with its pause."""
        return TONE_SECONDS if self.pass_name == "A" else SWELL_SECONDS

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """Kinds of rows that it gives."""
        return ("natural",) if self.pass_name == "A" else ("careful", "careful-swell")


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
    steps: list[CheckStep] = []
    for number, name in enumerate(PASSES[length]):
        order = rng.permutation(np.array(notes_of(length, compass)))
        steps += [CheckStep(number, name, int(midi)) for midi in order]
    return Check(tuple(steps))


def resumed(check: Check, saved: Iterable[HeldNoteRow]) -> Check:
    """Return a new check without the steps that a sitting's saved rows have settled already.

    Parameters
    ----------
    check
        A check from its beginning, of the same length.
    saved
        Rows of the sitting so far. A careful note counts once its swell is there.
    """
    rows = list(saved)
    naturals = Counter(row.midi for row in rows if row.kind == "natural")
    swells = {(row.midi, row.swell) for row in rows if row.kind == "careful-swell"}
    have = {"A": naturals, "B": Counter(midi for midi, _ in swells)}
    ahead = []
    for step in check.ahead:
        if have[step.pass_name][step.midi] > 0:
            have[step.pass_name][step.midi] -= 1
        else:
            ahead.append(step)
    return Check(tuple(ahead), done=len(check.ahead) - len(ahead))


def fault_of(
    step: CheckStep, rows: Sequence[HeldNoteRow], *, duration_s: float | None = None
) -> Fault | None:
    """Return why what was played does not count; None if it does.

    Parameters
    ----------
    step
        What was asked for.
    rows
        What was heard, of the kinds that the step gives.
    duration_s
        Length of its longest held tone, if known.
    """
    if not rows or (duration_s is not None and duration_s < SHORTEST_TONE_S):
        return "too short"
    if any(row.midi != step.midi for row in rows):
        return "another note"
    if any(abs(row.cents) > SQUEAK_CENTS for row in rows if row.kind != "careful-swell"):
        return "squeak"
    return _swell_fault(rows) if step.pass_name == "B" else None


def _swell_fault(rows: Sequence[HeldNoteRow]) -> Fault | None:
    swell = [row for row in rows if row.kind == "careful-swell"]
    if len(swell) < FEWEST_SWELL_STEPS:
        return "too short"
    levels = [row.level_db for row in swell if row.level_db is not None]
    narrow = bool(levels) and max(levels) - min(levels) < LEAST_SWELL_DB
    return "too little swell" if narrow else None


def after_playing(check: Check, fault: Fault | None) -> Check:
    """Return the check after the present step: settled, or asked again at the end of its pass."""
    step = check.step
    if step is None:
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


def measure_again(notes: Sequence[int], rng: np.random.Generator) -> Check:
    """Return a small check of a few notes: each as always and, by turns, with exact fingers."""
    order = rng.permutation(np.array(notes))
    passes: tuple[PassName, ...] = ("A", "B")
    steps = [CheckStep(n, name, int(m)) for n, name in enumerate(passes) for m in order]
    return Check(tuple(steps))
