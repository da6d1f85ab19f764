"""A practice session as a state machine: commands and tracker events in, practice events out."""

from dataclasses import dataclass, field, replace

from intonation.assessment.advising import advise
from intonation.assessment.neighbours import usual_level_db
from intonation.assessment.scoring import ScoredNote
from intonation.assessment.summing_up import summed_up
from intonation.assessment.targets import TargetChoice, scored
from intonation.exercise.drone import Drone
from intonation.instruments.instrument import Instrument
from intonation.pitch.cents import cents_between
from intonation.practice.events import (
    NoteIgnored,
    NoteScored,
    Phase,
    PhaseChanged,
    PitchRevealed,
    PracticeEvent,
    TakeEnded,
)
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of, tuning_of
from intonation.tracking.events import HeldNote, NoteStarted, PitchFrame, TrackerEvent

LISTEN_FIRST_S = 2.0
"""How long the reference sounds alone: long enough to hear it and to learn how it sounds here."""

SHORTEST_NOTE_S = 0.4
"""A shorter note is not held (design judgement): hardly any of it is sustain."""

STEADIER_THAN_BREATH_CENTS = 0.3
"""No player holds a note within this of the drone's frequency and as steady: the drone is heard
(design judgement)."""

SAME_BREATH_S = 2.0
"""A note that began within this time of the one before it came from that note."""


@dataclass(slots=True)
class _Take:
    """What is remembered while a take goes on."""

    began_at_s: float
    notes: list[ScoredNote] = field(default_factory=list)
    note_was_seen: bool = False


class PracticeSession:
    """One player practising against one drone.

    Parameters
    ----------
    settings
        What the player chose.
    instrument
        Whose notes are meant.
    headphones
        Whether the reference cannot reach the microphone; then nothing has to be learned first.

    Notes
    -----
    All times are seconds of the sound that is listened to, as the tracker counts them. What comes
    out depends on the order and the times of what goes in, never on when it is put in.
    """

    def __init__(
        self, settings: PracticeSettings, instrument: Instrument, *, headphones: bool = False
    ) -> None:
        self.settings = settings
        self.phase: Phase = "resting"
        self._choice = TargetChoice(
            instrument=instrument,
            tuning=tuning_of(settings),
            reference_midi=settings.drone_midi,
        )
        self._drone = drone_of(settings)
        self._headphones = headphones
        self._listen_s = 0.0 if headphones else LISTEN_FIRST_S
        self._revealed = False
        self._take: _Take | None = None

    def start(self, at_s: float) -> list[PracticeEvent]:
        """Begin a take at a time; one that is going on is ended first."""
        ended = self.end(at_s)
        self._take = _Take(began_at_s=at_s)
        return [*ended, *self._to("listen first" if self._listen_s else "your turn", at_s)]

    def end(self, at_s: float) -> list[PracticeEvent]:
        """End the take, if one is going on, and sum it up."""
        if self._take is None:
            return []
        summary = summed_up(self._take.notes)
        self._take = None
        return [*self._to("resting", at_s), TakeEnded(summary)]

    def reveal(self, shown: bool) -> None:
        """Show the pitch while a note sounds, or hide it again."""
        self._revealed = shown
        if shown and self._take and self.phase == "note sounds":
            self._take.note_was_seen = True

    def refer_to(self, drone: Drone) -> None:
        """From now on another reference sounds; a note that sounds now is scored against it."""
        self._drone = drone
        self._choice = replace(
            self._choice,
            tuning=tuning_of(replace(self.settings, drone_midi=drone.midi)),
            reference_midi=drone.midi,
        )

    def hear(self, event: TrackerEvent) -> list[PracticeEvent]:
        """Take in what the tracker says; outside a take it is ignored."""
        if self._take is None:
            return []
        match event:
            case PitchFrame():
                return [*self._turn_if_due(self._take, event.time_s), *self._shown(event)]
            case NoteStarted():
                return [*self._turn_if_due(self._take, event.onset_s), *self._note_begun(event)]
            case HeldNote():
                return [
                    *self._turn_if_due(self._take, event.offset_s),
                    *self._note_ended(self._take, event),
                ]

    def _to(self, phase: Phase, at_s: float) -> list[PracticeEvent]:
        if phase == self.phase:
            return []
        self.phase = phase
        return [PhaseChanged(phase, at_s)]

    def _turn_at_s(self, take: _Take) -> float:
        return take.began_at_s + self._listen_s

    def _turn_if_due(self, take: _Take, now_s: float) -> list[PracticeEvent]:
        if self.phase != "listen first" or now_s < self._turn_at_s(take):
            return []
        return self._to("your turn", self._turn_at_s(take))

    def _note_begun(self, event: NoteStarted) -> list[PracticeEvent]:
        if self.phase == "listen first" or self._choice.nearest(event.f0_hz) is None:
            return []
        if self._take is not None:
            self._take.note_was_seen = self._revealed
        return self._to("note sounds", event.onset_s)

    def _shown(self, frame: PitchFrame) -> list[PracticeEvent]:
        if not self._revealed or self.phase != "note sounds" or frame.f0_hz is None:
            return []
        target = self._choice.nearest(frame.f0_hz)
        if target is None:
            return []
        cents = cents_between(frame.f0_hz, target_hz=target.hz)
        return [PitchRevealed(frame.time_s, target, cents)]

    def _note_ended(self, take: _Take, held: HeldNote) -> list[PracticeEvent]:
        was_seen, take.note_was_seen = take.note_was_seen or self._revealed, False
        said = self._said_of(take, held, blind=not was_seen)
        if self.phase == "note sounds":
            return [said, *self._to("your turn", held.offset_s)]
        return [said]

    def _said_of(self, take: _Take, held: HeldNote, *, blind: bool) -> NoteScored | NoteIgnored:
        target = self._choice.nearest(held.f0_hz)
        if target is None:
            return NoteIgnored("outside the instrument", held.onset_s, held.f0_hz)
        if held.onset_s < self._turn_at_s(take):
            return NoteIgnored("before your turn", held.onset_s, held.f0_hz)
        if held.duration_s < SHORTEST_NOTE_S:
            return NoteIgnored("too short", held.onset_s, held.f0_hz)
        if not self._headphones and _is_the_drone(held, self._drone):
            return NoteIgnored("the drone itself", held.onset_s, held.f0_hz)
        previous_midi = _note_just_before(held, take.notes)
        note = scored(held, target=target)
        usual_db = usual_level_db(take.notes, midi=target.midi)
        take.notes.append(note)
        advice = advise(note, instrument=self._choice.instrument, usual_level_db=usual_db)
        return NoteScored(len(take.notes), note, advice, blind, previous_midi)


def _is_the_drone(held: HeldNote, drone: Drone) -> bool:
    off_cents = min(abs(cents_between(held.f0_hz, target_hz=hz)) for hz in drone.frequencies_hz)
    unsteady_cents = max(off_cents, held.sd_cents, abs(held.drift_cents_per_s))
    return unsteady_cents < STEADIER_THAN_BREATH_CENTS


def _note_just_before(held: HeldNote, notes: list[ScoredNote]) -> int | None:
    if notes and held.onset_s - notes[-1].held.offset_s < SAME_BREATH_S:
        return notes[-1].target.midi
    return None
