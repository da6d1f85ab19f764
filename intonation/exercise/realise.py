"""From what is written to what sounds: an exercise on one instrument, in one tuning, in seconds."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np

from intonation.exercise.fitting import semitones_to_fit
from intonation.exercise.interpretation import Interpretation
from intonation.exercise.pieces import Exercise
from intonation.exercise.placing import PlacedPhrase, longest_chord, placed_phrases
from intonation.exercise.reference_part import count_in_tones, reference_tones
from intonation.exercise.score import MelodyTarget, PhraseSpan, ReferenceTone, Score, ScoreNote
from intonation.exercise.targets import target_alone, target_over_chord, target_over_note
from intonation.exercise.timing import BeatClock, spans_of


def realise(
    exercise: Exercise, how: Interpretation, *, rng: np.random.Generator | None = None
) -> Score:
    """Return an exercise as it sounds on one instrument in one tuning.

    Parameters
    ----------
    exercise
        What is written.
    how
        Instrument, tuning and tempo.
    rng
        Source of chance for exercises in varied order; without one they stay as written.

    Raises
    ------
    SettingsError
        If the music is wider than the instrument.
    """
    move = semitones_to_fit(
        exercise.midi_range,
        written_from=exercise.written_from,
        lowest_midi=how.lowest_midi,
        highest_midi=how.highest_midi,
    )
    clock = BeatClock(how.tempo or exercise.tempo, exercise.count_in)
    placed = placed_phrases(exercise, how, semitones=move, rng=rng)
    notes = _numbered([note for each in placed for note in _notes(each, how, clock)])
    return Score(
        exercise=exercise.name,
        tempo=clock.tempo,
        transposed_semitones=move,
        count_in_s=clock.seconds(Fraction(0)),
        duration_s=clock.seconds(placed[-1].next_begin),
        notes=notes,
        reference=_whole_reference(exercise, placed, notes, how, clock),
        phrases=tuple(
            PhraseSpan(each.number, clock.seconds(each.begin), clock.seconds(each.end))
            for each in placed
        ),
    )


def _numbered(notes: Sequence[ScoreNote]) -> tuple[ScoreNote, ...]:
    return tuple(replace(note, number=number) for number, note in enumerate(notes))


def _notes(placed: PlacedPhrase, how: Interpretation, clock: BeatClock) -> Iterator[ScoreNote]:
    written = placed.phrase.notes
    last = max(place for place, note in enumerate(written) if note.midi is not None)
    spans = spans_of([note.beats for note in written], placed.begin)
    for place, ((begin, end), note) in enumerate(zip(spans, written, strict=True)):
        if note.midi is not None:
            yield ScoreNote(
                number=0,
                phrase=placed.number,
                start_s=clock.seconds(begin),
                end_s=clock.seconds(end),
                target=_target(note.midi, begin, end, placed, how),
                breathe_after=place == last,
            )


def _target(
    midi: int, begin: Fraction, end: Fraction, placed: PlacedPhrase, how: Interpretation
) -> MelodyTarget:
    phrase, is_pure = placed.phrase, how.harmony != "tempered"
    if phrase.drone:
        return target_over_note(
            midi, over_midi=phrase.drone[0], origin="drone", is_pure=is_pure, within=how.tuning
        )
    if phrase.below is not None:
        below = midi - phrase.below
        return target_over_note(
            midi, over_midi=below, origin="reference note", is_pure=is_pure, within=how.tuning
        )
    tuned = longest_chord(begin, end, placed.chords)
    if tuned is None:
        return target_alone(midi, within=how.tuning)
    return target_over_chord(midi, chord=tuned, within=how.tuning)


def _whole_reference(
    exercise: Exercise,
    placed: Sequence[PlacedPhrase],
    notes: Sequence[ScoreNote],
    how: Interpretation,
    clock: BeatClock,
) -> tuple[ReferenceTone, ...]:
    tones = [tone for each in placed for tone in reference_tones(each, how, clock)]
    opening = [tone for tone in tones if tone.start_s == clock.seconds(Fraction(0))]
    tones += count_in_tones(exercise.count_in, opening, notes[0].target, clock)
    if how.with_melody:
        tones += [_melody_tone(note) for note in notes]
    return tuple(sorted(tones, key=lambda tone: (tone.start_s, tone.hz)))


def _melody_tone(note: ScoreNote) -> ReferenceTone:
    target = note.target
    return ReferenceTone(
        midi=target.midi, hz=target.hz, start_s=note.start_s, end_s=note.end_s, role="melody"
    )
