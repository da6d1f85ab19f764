"""The target of a melody note: pure over what sounds where that is pure, else by temperament."""

from intonation.exercise.score import MelodyTarget, Origin
from intonation.pitch.chords import TunedChord
from intonation.pitch.intervals import interval_between
from intonation.pitch.tuning import Tuning, pure_over


def target_over_chord(midi: int, *, chord: TunedChord, within: Tuning) -> MelodyTarget:
    """Return the target over a chord: its own member's frequency, in the note's octave.

    A note that does not belong to the chord, or whose chord is tempered, goes by the temperament.
    """
    member = chord.chord.member_of(midi % 12)
    pure = chord.is_pure and member is not None
    return MelodyTarget(
        midi=midi,
        hz=chord.hz(midi) if pure else within.hz(midi),
        origin="chord" if pure else "temperament",
        tuning=within.name,
        chord=chord.chord.symbol,
        member=member,
    )


def target_over_note(
    midi: int, *, over_midi: int, origin: Origin, is_pure: bool, within: Tuning
) -> MelodyTarget:
    """Return the target over a drone or a reference note, pure or by the temperament."""
    tuning = pure_over(over_midi, within=within) if is_pure else within
    return MelodyTarget(
        midi=midi,
        hz=tuning.hz(midi),
        origin=origin if is_pure else "temperament",
        tuning=within.name,
        interval=interval_between(midi, over_midi=over_midi),
        over_midi=over_midi,
    )


def target_alone(midi: int, *, within: Tuning) -> MelodyTarget:
    """Return the target of a note with which nothing sounds."""
    return MelodyTarget(midi=midi, hz=within.hz(midi), origin="temperament", tuning=within.name)
