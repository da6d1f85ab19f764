"""The instrument check as a state machine: what is asked for, what was played, what is kept."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np

from intonation.diagnosis.check import (
    KINDS,
    AskedTone,
    Check,
    CheckStep,
    Fault,
    Form,
    after_playing,
    fault_of,
    skipped,
)
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.instrument import Instrument
from intonation.instruments.own_instrument import recorder
from intonation.pitch.cents import cents_between
from intonation.pitch.notes import equal_tempered_hz
from intonation.practice.swell_steps import LevelStep
from intonation.tracking.events import HeldNote

STRAY_S = 0.4
"""A shorter sound is not meant as an answer (design judgement)."""
SQUEAK_SEMITONES = 9
"""So far above the note asked for, it was overblown, not mistaken (design judgement)."""
_FEWEST_FOR_CENTRE = 3
_SPEECH_SEMITONES = 3
"""No recorder sounds so far below its lowest note; a voice in the room does."""

Said = Literal["kept", "held", "skipped"] | Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckSettings:
    """Whose check it is, on what, and how thorough.

    Parameters
    ----------
    player, instrument
        Names under which the notes are kept.
    size
        Name of the instrument's size, for example ``"alto"``.
    fingering_system
        How it is fingered, for example ``"baroque"``.
    form
        How thorough.
    a4_hz
        Concert pitch; every note's target is equal-tempered from it.
    temperature_c
        Room temperature, if known.
    warm_minutes
        How long the player has already blown.
    """

    player: str
    instrument: str
    size: str
    form: Form = "short"
    a4_hz: float = 440.0
    temperature_c: float | None = None
    warm_minutes: float = 10.0
    fingering_system: str = "baroque"

    @property
    def recorder(self) -> Instrument:
        """The instrument: its compass and its fingerings."""
        return recorder(self.instrument, size=self.size, fingering_system=self.fingering_system)


@dataclass(frozen=True, slots=True)
class PlayedTone:
    """A tone that was heard, with its steps of level if it was to be a swell."""

    held: HeldNote
    steps: tuple[LevelStep, ...] = ()


@dataclass(frozen=True, slots=True)
class KeptStep:
    """A step that was played well: what is to be kept of it."""

    step: CheckStep
    tones: tuple[tuple[AskedTone, PlayedTone], ...]


@dataclass(frozen=True, slots=True)
class Checking:
    """A check that is being played; every change gives a new one.

    Parameters
    ----------
    settings, instrument
        Whose, and the size that it is on.
    check
        What is settled and what is ahead.
    waiting
        Whether a pass is about to begin: the player says when.
    number
        How many tones were asked for so far.
    tones
        The tones of the present step that were played well.
    said
        What became of the last tone; None at the beginning.
    left_out_now
        Whether the last tone's note was left out.
    heard_midi
        The note that sounded instead of the one that was asked for.
    cents
        Deviations of all tones kept: an instrument that is off as a whole is not at another note.
    """

    settings: CheckSettings
    instrument: Instrument
    check: Check
    waiting: bool = True
    number: int = 0
    tones: tuple[tuple[AskedTone, PlayedTone], ...] = ()
    said: Said | None = None
    heard_midi: int | None = None
    left_out_now: bool = False
    cents: tuple[float, ...] = field(default=())

    @property
    def asked(self) -> AskedTone | None:
        """The tone to be played now; None while a pass is about to begin, and at the end."""
        step = self.check.step
        if step is None or self.waiting:
            return None
        return AskedTone(step.midi, step.manners[len(self.tones)], self.number)

    @property
    def finished(self) -> bool:
        """Whether every step is settled."""
        return self.check.step is None

    def begun(self) -> "Checking":
        """Return the check with its next pass begun."""
        return replace(self, waiting=False, number=self.number + 1)

    def extended(self, steps: Sequence[CheckStep]) -> "Checking":
        """Return the check with one more pass."""
        ahead = (*self.check.ahead, *steps)
        return replace(self, check=replace(self.check, ahead=ahead), waiting=True)

    def skipped(self) -> "Checking":
        """Return the check with the present note left out."""
        return self._on(skipped(self.check), said="skipped")

    def after(self, tone: PlayedTone) -> tuple["Checking", KeptStep | None]:
        """Return the check after a tone, and the step to be kept if that has settled one."""
        asked, step = self.asked, self.check.step
        if asked is None or step is None or self._is_stray(tone.held):
            return self, None
        rows = self.rows_of(asked, tone)
        fault = fault_of(asked, rows, duration_s=tone.held.duration_s)
        if fault is not None:
            return self._failed(fault, rows), None
        tones = (*self.tones, (asked, tone))
        if len(tones) < len(step.manners):
            return replace(self, tones=tones, said="held", number=self.number + 1), None
        cents = (*self.cents, *(self._cents(each) for _, each in tones))
        on = replace(self, cents=cents)._on(after_playing(self.check, None), said="kept")
        return on, KeptStep(step, tones)

    def rows_of(
        self,
        asked: AskedTone,
        tone: PlayedTone,
        *,
        session: str = "",
        minutes: float = 0.0,
        order: int = 0,
    ) -> tuple[HeldNoteRow, ...]:
        """Return what was heard as rows of the held-note table.

        Parameters
        ----------
        asked, tone
            What was asked for, and what was played.
        session
            Identifier of the sitting.
        minutes
            Since the player began to blow.
        order
            Position in the sitting; it also names a swell.
        """
        fingering = self.instrument.fingering(asked.midi)
        usual = HeldNoteRow(
            event=0,
            player=self.settings.player,
            instrument=self.settings.instrument,
            session=session,
            midi=self._heard_midi(asked.midi, tone.held.f0_hz),
            fingering=fingering.kind if fingering else "plain",
            kind=KINDS[asked.manner],
            order=order,
            minutes=minutes,
            temperature_c=self.settings.temperature_c,
            cents=self._cents_from(asked.midi, tone.held.f0_hz),
            level_db=tone.held.level_db,
            sd_cents=tone.held.sd_cents,
            drift_cents_per_s=tone.held.drift_cents_per_s,
        )
        if asked.manner != "swelled":
            return (usual,)
        return tuple(self._swell_row(usual, asked, n, step) for n, step in enumerate(tone.steps))

    def _swell_row(
        self, usual: HeldNoteRow, asked: AskedTone, number: int, step: LevelStep
    ) -> HeldNoteRow:
        return replace(
            usual,
            cents=self._cents_from(asked.midi, step.f0_hz),
            level_db=step.level_db,
            sd_cents=None,
            drift_cents_per_s=None,
            swell=f"{usual.order}",
            swell_step=number,
        )

    def _is_stray(self, held: HeldNote) -> bool:
        """Return whether a sound is no answer: a knock, a cough, or somebody speaking."""
        lowest = self.instrument.lowest_midi - _SPEECH_SEMITONES
        below = self._cents_from(lowest, held.f0_hz) < 0.0
        return below or held.duration_s < STRAY_S

    def _failed(self, fault: Fault, rows: Sequence[HeldNoteRow]) -> "Checking":
        heard = rows[0].midi if fault == "another note" else None
        if fault == "too short":
            return replace(
                self, said=fault, heard_midi=None, left_out_now=False, number=self.number + 1
            )
        return self._on(after_playing(self.check, fault), said=fault, heard_midi=heard)

    def _on(self, check: Check, *, said: Said, heard_midi: int | None = None) -> "Checking":
        before, now = self.check.step, check.step
        new_pass = bool(before and now and before.pass_number != now.pass_number)
        return replace(
            self,
            check=check,
            waiting=new_pass,
            number=self.number + 1,
            tones=(),
            said=said,
            heard_midi=heard_midi,
            left_out_now=len(check.left_out) > len(self.check.left_out),
        )

    def _cents(self, tone: PlayedTone) -> float:
        """Return how far a tone lies from the nearest semitone that it can be meant for."""
        semitones = 12.0 * float(np.log2(tone.held.f0_hz / self.settings.a4_hz))
        return 100.0 * (semitones - round(semitones - self._centre_cents / 100.0))

    def _cents_from(self, midi: int, hz: float) -> float:
        target_hz = equal_tempered_hz(midi, a4_hz=self.settings.a4_hz)
        return cents_between(hz, target_hz=target_hz)

    @property
    def _centre_cents(self) -> float:
        known = len(self.cents) >= _FEWEST_FOR_CENTRE
        return float(np.median(self.cents)) if known else 0.0

    def _heard_midi(self, asked_midi: int, hz: float) -> int:
        """Return which note sounded; a squeak is taken for the note that it was meant to be."""
        off = round((self._cents_from(asked_midi, hz) - self._centre_cents) / 100.0)
        return asked_midi if off >= SQUEAK_SEMITONES else asked_midi + off
