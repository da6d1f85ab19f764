"""A sound engine that says what a test lets it say, and remembers what it was told."""

from collections.abc import Callable
from dataclasses import dataclass, field

from intonation.assessment.advising import advise
from intonation.assessment.melody import MelodyScore, score_melody
from intonation.assessment.scoring import ScoredNote
from intonation.assessment.summing_up import summed_up
from intonation.assessment.targets import TargetChoice
from intonation.engine.messages import (
    CheckListening,
    EndTake,
    EngineClosed,
    EngineCommand,
    EngineEvent,
    MelodyEnded,
    NoteDue,
    PhraseScored,
    SoundFault,
    SoundReady,
    SoundSettings,
    StartCheck,
    StartMelody,
    StartTake,
)
from intonation.exercise.score import ScoreNote
from intonation.instruments.library import instrument_named
from intonation.pitch.cents import shifted_hz
from intonation.pitch.tuning import Tuning
from intonation.practice.events import (
    NoteIgnored,
    NoteScored,
    PhaseChanged,
    PitchRevealed,
    TakeEnded,
)
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import tuning_of
from intonation.tracking.events import HeldNote


@dataclass(slots=True)
class ScriptedEngine:
    """Answers commands like the real engine, and plays whatever notes a test asks for."""

    sound: SoundSettings
    heard: Callable[[EngineEvent], None]
    commands: list[EngineCommand] = field(default_factory=list)
    notes: list[ScoredNote] = field(default_factory=list)
    settings: PracticeSettings = field(default_factory=PracticeSettings)
    melody: StartMelody | None = None
    in_check: bool = False
    rounds: list[MelodyScore] = field(default_factory=list)
    fault: SoundFault | None = None
    closed: bool = False

    def send(self, command: EngineCommand) -> None:
        self.commands.append(command)
        match command:
            case StartTake() if self.fault:
                self.heard(self.fault)
            case StartTake(settings=settings):
                self.settings = settings
                self.notes.clear()
                self.heard(PhaseChanged("listen first", 0.0))
            case StartMelody():
                self.melody = command
                self.rounds.clear()
            case StartCheck():
                self.in_check = True
                self.heard(CheckListening(True))
            case EndTake() if self.in_check:
                self.in_check = False
                self.heard(CheckListening(False))
            case EndTake() if self.melody:
                self.melody = None
                self.heard(MelodyEnded(tuple(self.rounds)))
            case EndTake():
                self.heard(PhaseChanged("resting", 60.0))
                self.heard(TakeEnded(summed_up(self.notes)))

    def close(self) -> None:
        self.closed = True

    def die(self) -> None:
        self.heard(EngineClosed())

    def your_turn(self) -> None:
        self.heard(PhaseChanged("your turn", 2.0))

    def begin_note(self) -> None:
        self.heard(PhaseChanged("note sounds", 3.0))

    def read_pitch(self, midi: int, cents: float) -> None:
        target = self._choice.nearest(self._tuning.hz(midi))
        assert target is not None
        self.heard(PitchRevealed(3.5, target, cents))

    def ignore_note(self) -> None:
        self.heard(NoteIgnored("too short", 3.0, 440.0))

    def end_note(self, midi: int, cents: float, *, drift_cents_per_s: float = -0.3) -> NoteScored:
        """Let a note end that lay so many cents from its target."""
        hz = self._tuning.hz(midi)
        target = self._choice.nearest(hz)
        assert target is not None
        number = len(self.notes) + 1
        held = HeldNote(
            onset_s=3.0 * number,
            offset_s=3.0 * number + 2.4,
            f0_hz=shifted_hz(hz, cents=cents),
            standard_error_cents=0.1,
            sd_cents=1.4,
            drift_cents_per_s=drift_cents_per_s,
            level_db=-24.0,
            harmonic_to_noise_db=32.0,
        )
        self.notes.append(ScoredNote(held, target, cents))
        advice = advise(self.notes[-1], instrument=instrument_named(self.settings.instrument))
        event = NoteScored(number, self.notes[-1], advice)
        self.heard(event)
        self.heard(PhaseChanged("your turn", held.offset_s))
        return event

    def note_due(self, number: int) -> None:
        assert self.melody is not None
        self.heard(NoteDue(number, 0, self.melody.score.notes[number].start_s))

    def end_phrase(self, number: int, cents: list[float]) -> PhraseScored:
        """Let a phrase end whose notes lay so many cents from their targets, in order."""
        assert self.melody is not None
        notes = [note for note in self.melody.score.notes if note.phrase == number]
        held = [held_as(note, off) for note, off in zip(notes, cents, strict=False)]
        scored = PhraseScored(number, 0, score_melody(notes, held))
        self.heard(scored)
        return scored

    def end_melody(self, cents: list[float]) -> None:
        """Let a whole round end whose notes lay so many cents from their targets, in order."""
        assert self.melody is not None
        notes = self.melody.score.notes
        held = [held_as(note, off) for note, off in zip(notes, cents, strict=False)]
        self.heard(MelodyEnded((score_melody(notes, held),)))

    @property
    def _tuning(self) -> Tuning:
        return tuning_of(self.settings)

    @property
    def _choice(self) -> TargetChoice:
        return TargetChoice(
            instrument=instrument_named(self.settings.instrument),
            tuning=self._tuning,
            reference_midi=self.settings.drone_midi,
        )


def held_as(note: ScoreNote, cents: float) -> HeldNote:
    """Return a held note that was played as a note of a melody, so many cents from its target."""
    return HeldNote(
        onset_s=note.start_s + 0.05,
        offset_s=note.end_s - 0.05,
        f0_hz=shifted_hz(note.target.hz, cents=cents),
        standard_error_cents=0.1,
        sd_cents=1.4,
        drift_cents_per_s=-0.3,
        level_db=-24.0,
        harmonic_to_noise_db=32.0,
    )


@dataclass(slots=True)
class ScriptedSound:
    """Connects the interface to scripted engines; the latest one is at hand as ``engine``."""

    engines: list[ScriptedEngine] = field(default_factory=list)
    fault: SoundFault | None = None

    @property
    def engine(self) -> ScriptedEngine:
        return self.engines[-1]

    def __call__(
        self, sound: SoundSettings, heard: Callable[[EngineEvent], None]
    ) -> ScriptedEngine:
        self.engines.append(ScriptedEngine(sound, heard, fault=self.fault))
        heard(
            SoundReady(
                sound.microphone or "Desk microphone", sound.output or "Headphones", 48_000.0, 0.043
            )
        )
        return self.engines[-1]
