"""The reference part: chords, drones and reference notes, each an exact tone with its time."""

from fractions import Fraction

from intonation.exercise.interpretation import Interpretation
from intonation.exercise.placing import PlacedChord, PlacedPhrase
from intonation.exercise.score import MelodyTarget, ReferenceTone, Role
from intonation.exercise.timing import BeatClock, spans_of
from intonation.exercise.voicing import voiced
from intonation.pitch.tuning import pure_over

COUNT_IN_SOUNDS_BEATS = Fraction(1, 2)
"""How much of each beat of a count-in sounds, so that the beats can be told apart."""


def reference_tones(
    placed: PlacedPhrase, how: Interpretation, clock: BeatClock
) -> list[ReferenceTone]:
    """Return what sounds with a phrase, through the breath after it."""
    if placed.phrase.drone:
        return _drone_tones(placed, how, clock)
    if placed.phrase.below is not None:
        return _notes_below(placed, placed.phrase.below, how, clock)
    return [tone for chord in placed.chords for tone in _chord_tones(chord, clock)]


def count_in_tones(
    count_in: int, opening: list[ReferenceTone], first: MelodyTarget, clock: BeatClock
) -> list[ReferenceTone]:
    """Return the count-in: what sounds first, or the first note, once on every beat.

    A drone does not beat time: it sounds on from the very start, to be listened into.
    """
    if any(tone.role == "drone" for tone in opening):
        beats = [(Fraction(-count_in), Fraction(0))] if count_in else []
        return [
            _tone(t.midi, t.hz, begin, end, "drone", clock) for begin, end in beats for t in opening
        ]
    pitches = [(tone.midi, tone.hz) for tone in opening] or [(first.midi, first.hz)]
    return [
        _tone(midi, hz, beat, beat + COUNT_IN_SOUNDS_BEATS, "count-in", clock)
        for beat in (Fraction(-count) for count in range(count_in, 0, -1))
        for midi, hz in pitches
    ]


def _drone_tones(
    placed: PlacedPhrase, how: Interpretation, clock: BeatClock
) -> list[ReferenceTone]:
    drone = placed.phrase.drone
    tuning = pure_over(drone[0], within=how.tuning) if how.harmony != "tempered" else how.tuning
    return [
        _tone(midi, tuning.hz(midi), placed.begin, placed.next_begin, "drone", clock)
        for midi in drone
    ]


def _notes_below(
    placed: PlacedPhrase, below: int, how: Interpretation, clock: BeatClock
) -> list[ReferenceTone]:
    """Return each note's own reference; it begins in the rest before, to be heard first."""
    tones: list[ReferenceTone] = []
    heard_from = placed.begin
    notes = placed.phrase.notes
    spans = spans_of([note.beats for note in notes], placed.begin)
    for (_, end), note in zip(spans, notes, strict=True):
        if note.midi is not None:
            midi = note.midi - below
            hz = how.tuning.hz(midi)
            tones.append(_tone(midi, hz, heard_from, end, "reference note", clock))
            heard_from = end
    return tones


def _chord_tones(chord: PlacedChord, clock: BeatClock) -> list[ReferenceTone]:
    tuned = chord.tuned
    if tuned is None:
        return []
    voicing = voiced(tuned.chord)
    roles: list[tuple[int, Role]] = [(voicing.bass, "bass")]
    roles += [(midi, "chord") for midi in voicing.upper]
    return [
        _tone(midi, tuned.hz(midi), chord.begin, chord.end, role, clock) for midi, role in roles
    ]


def _tone(
    midi: int, hz: float, begin: Fraction, end: Fraction, role: Role, clock: BeatClock
) -> ReferenceTone:
    return ReferenceTone(
        midi=midi, hz=hz, start_s=clock.seconds(begin), end_s=clock.seconds(end), role=role
    )
