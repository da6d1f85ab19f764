"""A check under way: joins what is heard to what is asked for, and keeps every step at once."""

import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from intonation.diagnosis.check import (
    OFF_AND_ON_PASSES,
    PASSES,
    AskedTone,
    CheckStep,
    Outcome,
)
from intonation.diagnosis.confirming import confirming_steps, doubtful_notes
from intonation.engine.messages import ToneHeard
from intonation.heldnotes.row import HeldNoteRow
from intonation.pitch.notes import equal_tempered_hz
from intonation.practice.checking import Checking, KeptStep, PlayedTone
from intonation.store.checks import Checks
from intonation.store.details import HeldNoteDetails

SIDES = ("off", "on")


@dataclass(frozen=True, slots=True)
class Sitting:
    """A sitting with the microphone in one place.

    Parameters
    ----------
    name
        Identifier of the session.
    began_at
        When its first check began.
    order
        How many notes it had before this check.
    """

    name: str
    began_at: datetime
    order: int = 0


@dataclass(frozen=True, slots=True)
class _Unwritten:
    """A settled step that is not in the store yet."""

    step: CheckStep
    outcome: Outcome
    notes: tuple[tuple[HeldNoteRow, HeldNoteDetails], ...]
    at: datetime


class GuidedCheck:
    """Takes in tones and commands; any thread may call.

    Parameters
    ----------
    number
        The check's number in the record.
    checking
        The check as it stands.
    sitting
        The sitting that its notes belong to.
    checks
        Where they are kept.
    now
        Returns the present date and time.

    Notes
    -----
    A step that the store refuses is remembered and written before the next one.
    """

    def __init__(
        self,
        number: int,
        checking: Checking,
        sitting: Sitting,
        *,
        checks: Checks,
        now: Callable[[], datetime],
    ) -> None:
        self.number = number
        self.checking = checking
        self.sitting = sitting
        self._checks = checks
        self._now = now
        self._order = sitting.order
        self._left_out_kept = len(checking.check.left_out)
        self._lock = threading.RLock()
        self._unwritten: deque[_Unwritten] = deque()

    @property
    def kept(self) -> Sitting:
        """The sitting with the notes that it has now."""
        return Sitting(self.sitting.name, self.sitting.began_at, self._order)

    @property
    def sides(self) -> dict[str, str]:
        """The sessions of a check off and on, and which was before the change and which after."""
        return {
            self._side(number): ("before", "after")[number % len(SIDES)]
            for number in range(OFF_AND_ON_PASSES)
        }

    def hear(self, heard: ToneHeard) -> None:
        """Take in a tone; when this returns, a step that it has settled is on the disk.

        Raises
        ------
        StoreError
            If the store cannot be written; the step counts all the same, and is tried again.
        """
        with self._lock:
            asked = self.checking.asked
            if asked is None or asked.number != heard.number:
                return
            self.checking, step = self.checking.after(heard.tone)
            if step is not None:
                self._keep(step)
            elif self.checking.said not in ("held", "too short"):
                self._keep_left_out()
        self.write_rest()

    def go_on(self) -> None:
        """Begin the next pass."""
        with self._lock:
            self.checking = self.checking.begun()

    def skip(self) -> None:
        """Leave the present note out.

        Raises
        ------
        StoreError
            See `hear`.
        """
        with self._lock:
            self.checking = self.checking.skipped()
            self._keep_left_out()
        self.write_rest()

    def write_rest(self) -> None:
        """Write whatever the store has refused so far, and the check's end once it is over.

        Raises
        ------
        StoreError
            If the store cannot be written.
        """
        with self._lock:
            while self._unwritten:
                each = self._unwritten[0]
                self._checks.settle(self.number, each.step, each.outcome, each.notes, at=each.at)
                self._unwritten.popleft()
            if self.checking.finished and not self._confirms():
                self._checks.end(self.number, ended_at=self._now())

    def _confirms(self) -> bool:
        """Ask once more for notes that one tone cannot decide; return whether there are any."""
        form, steps = self.checking.settings.form, self._checks.steps(self.number)
        if form not in PASSES or any(s.pass_number >= len(PASSES[form]) for s in steps):
            return False
        more = confirming_steps(steps, doubtful_notes(self._checks.notes(self.number)))
        if more:
            self._checks.extend(self.number, more)
            self.checking = self.checking.extended(more)
        return bool(more)

    def _keep(self, kept: KeptStep) -> None:
        self._order += 1
        at = self._now()
        notes = tuple(
            (row, self._details(asked, played))
            for asked, played in kept.tones
            for row in self._rows(kept.step, asked, played, at)
        )
        self._unwritten.append(_Unwritten(kept.step, "played", notes, at))

    def _rows(
        self, step: CheckStep, asked: AskedTone, played: PlayedTone, at: datetime
    ) -> tuple[HeldNoteRow, ...]:
        blown = (at - self.sitting.began_at).total_seconds() / 60.0
        return self.checking.rows_of(
            asked,
            played,
            session=self._session(step),
            minutes=self.checking.settings.warm_minutes + blown,
            order=self._order,
        )

    def _session(self, step: CheckStep) -> str:
        """Return the session's name; a change's sides are sessions of their own."""
        if self.checking.settings.form != "off and on":
            return self.sitting.name
        return self._side(step.pass_number)

    def _side(self, pass_number: int) -> str:
        again, side = divmod(pass_number, len(SIDES))
        return f"{self.sitting.name} {SIDES[side]} {again + 1}"

    def _details(self, asked: AskedTone, played: PlayedTone) -> HeldNoteDetails:
        held = played.held
        return HeldNoteDetails(
            duration_s=held.duration_s,
            f0_hz=held.f0_hz,
            target_hz=equal_tempered_hz(asked.midi, a4_hz=self.checking.settings.a4_hz),
            standard_error_cents=held.standard_error_cents,
            cents_per_db=held.cents_per_db,
            vibrato_hz=held.vibrato_hz,
            vibrato_cents=held.vibrato_cents,
        )

    def _keep_left_out(self) -> None:
        """Keep that a step was left out, if one was just now."""
        left_out = self.checking.check.left_out
        for step in left_out[self._left_out_kept :]:
            self._unwritten.append(_Unwritten(step, "left out", (), self._now()))
        self._left_out_kept = len(left_out)
