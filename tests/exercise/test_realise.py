"""An exercise sounds where, when and as high as it says, and every target has its reason."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.exercise.exercise_file import parse_exercise
from intonation.exercise.fitting import semitones_to_fit
from intonation.exercise.interpretation import Interpretation
from intonation.exercise.library import exercise_named, exercise_names
from intonation.exercise.pieces import Exercise
from intonation.exercise.realise import realise
from intonation.exercise.score import Score
from intonation.pitch.cents import beats_per_second, cents_between
from intonation.pitch.chords import ChordTuning
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered


def exercise_of(phrases: str, top: str = "") -> Exercise:
    text = f'title = "t"\nkind = "melody"\nlisten = "l"\n{top}\n' + phrases
    return parse_exercise(text, file_name="t.toml")


def played(
    exercise: Exercise,
    *,
    harmony: ChordTuning = "pure",
    temperament: str = "equal",
    with_melody: bool = False,
    tempo: float | None = None,
) -> Score:
    how = Interpretation(
        lowest_midi=65,
        highest_midi=91,
        tuning=tempered(temperament_named(temperament), a4_hz=440.0),
        harmony=harmony,
        with_melody=with_melody,
        tempo=tempo,
    )
    return realise(exercise, how)


CHORDS = exercise_of('[[phrase]]\nnotes = "A5:2 G5 F5 rest"\nchords = "F:3 C:2"\nbreath = 1\n')


def test_a_chord_tone_is_pure_over_the_sounding_chord_and_says_so() -> None:
    score = played(CHORDS)
    third = score.notes[0].target
    assert (third.origin, third.chord, third.member) == ("chord", "F", "third")
    root_hz = next(t.hz for t in score.reference if t.role == "bass")
    assert beats_per_second(third.hz, against_hz=root_hz, ratio=(5, 1)) < 1e-9  # F3 to A5


def test_a_note_outside_the_chord_goes_by_the_temperament_and_says_so() -> None:
    target = played(CHORDS, temperament="vallotti").notes[1].target
    assert (target.origin, target.chord, target.member) == ("temperament", "F", None)
    vallotti = tempered(temperament_named("vallotti"), a4_hz=440.0)
    assert target.hz == pytest.approx(vallotti.hz(79))


def test_over_tempered_chords_the_place_in_the_chord_is_kept_but_the_temperament_decides() -> None:
    target = played(CHORDS, harmony="tempered").notes[0].target
    assert (target.origin, target.member) == ("temperament", "third")
    assert target.hz == pytest.approx(880.0)


def test_a_note_under_which_the_chord_changes_belongs_to_the_chord_that_lasts_longer() -> None:
    exercise = exercise_of('[[phrase]]\nnotes = "C6:4"\nchords = "F Am:3"\n')
    target = played(exercise).notes[0].target
    assert (target.chord, target.member) == ("Am", "third")


def test_a_note_over_a_drone_is_a_pure_interval_over_its_lowest_note() -> None:
    exercise = exercise_of('[[phrase]]\nnotes = "C6:4 A5:4"\ndrone = "F3 C4"\n')
    fifth, third = (note.target for note in played(exercise).notes)
    assert (fifth.origin, fifth.interval, fifth.over_midi) == ("drone", "fifth", 53)
    assert third.interval == "major third"
    drone_hz = [t.hz for t in played(exercise).reference if t.role == "drone"]
    assert cents_between(fifth.hz, target_hz=drone_hz[0]) == pytest.approx(3101.955, abs=1e-3)
    assert max(drone_hz) / min(drone_hz) == pytest.approx(1.5)


def test_a_note_alone_goes_by_the_temperament() -> None:
    target = played(exercise_of('[[phrase]]\nnotes = "A5"\n')).notes[0].target
    assert (target.origin, target.chord, target.interval) == ("temperament", None, None)


def test_a_reference_note_is_heard_in_the_rest_before_its_note() -> None:
    exercise = exercise_of('below = "fifth"\n[[phrase]]\nnotes = "rest:4 C5:8 rest:4 D5:8"\n')
    below = [t for t in played(exercise).reference if t.role == "reference note"]
    notes = played(exercise).notes
    assert [tone.midi for tone in below] == [65, 67]
    assert below[0].start_s == notes[0].start_s - 4.0
    assert below[1].start_s == notes[0].end_s
    assert below[1].end_s == notes[1].end_s


def test_time_runs_at_the_tempo_after_the_count_in() -> None:
    score = played(CHORDS, tempo=120)
    assert score.count_in_s == pytest.approx(2.0)
    assert [note.start_s for note in score.notes] == pytest.approx([2.0, 3.0, 3.5])
    assert score.duration_s == pytest.approx(2.0 + 6 * 0.5)


def test_the_count_in_gives_the_first_chord_on_each_beat() -> None:
    score = played(CHORDS)
    beats = sorted({t.start_s for t in score.reference if t.role == "count-in"})
    first_chord = {t.midi for t in score.reference if t.start_s == score.count_in_s}
    assert beats == pytest.approx([0.0, 1.0, 2.0, 3.0])
    assert {t.midi for t in score.reference if t.role == "count-in"} == first_chord


def test_without_any_reference_the_count_in_gives_the_first_note() -> None:
    score = played(exercise_of('[[phrase]]\nnotes = "A5:4"\n'))
    assert {t.midi for t in score.reference} == {81}


def test_a_drone_sounds_from_the_start_without_a_break() -> None:
    score = played(exercise_named("slow-scale-f-major"))
    heard = [sounding for sounding in score.soundings() if sounding.tones]
    assert len(heard) == 1
    assert heard[0].start_s == 0.0


def test_the_last_chord_of_a_phrase_sounds_on_while_the_player_breathes() -> None:
    score = played(CHORDS)
    assert max(tone.end_s for tone in score.reference) == pytest.approx(score.duration_s)
    assert score.notes[-1].breathe_after
    assert score.phrases[0].end_s == pytest.approx(score.duration_s - 1.0)


def test_the_melody_sounds_too_where_that_is_wanted() -> None:
    melody = [t for t in played(CHORDS, with_melody=True).reference if t.role == "melody"]
    assert [t.hz for t in melody] == [n.target.hz for n in played(CHORDS).notes]
    assert not [t for t in played(CHORDS).reference if t.role == "melody"]


def test_a_phrase_can_be_looped() -> None:
    tune = exercise_named("innsbruck")
    looped = played(tune.of_phrases(2, 2))
    whole = played(tune)
    third = [n.target.midi for n in whole.notes if n.phrase == 2]
    assert [n.target.midi for n in looped.notes] == third * 2
    assert looped.notes[0].start_s == looped.count_in_s


@given(st.sampled_from(exercise_names()), st.sampled_from(("tempered", "pure", "adapting")))
def test_what_sounds_is_ordered_finite_and_ends_in_silence(name: str, harmony: ChordTuning) -> None:
    score = played(exercise_named(name), harmony=harmony, with_melody=True)
    soundings = score.soundings()
    starts = [sounding.start_s for sounding in soundings]
    assert starts == sorted(set(starts))
    assert soundings[-1].tones == ()
    assert soundings[-1].start_s <= score.duration_s
    assert all(40 < tone.hz < 4000 for tone in score.reference)
    assert all(0 <= tone.start_s < tone.end_s for tone in score.reference)


@given(st.integers(40, 90), st.integers(0, 26), st.integers(41, 84))
def test_music_is_moved_into_the_instrument_and_by_octaves_where_the_fingering_cannot_stay(
    lowest: int, span: int, instrument: int
) -> None:
    move = semitones_to_fit(
        (lowest, lowest + span),
        written_from=65,
        lowest_midi=instrument,
        highest_midi=instrument + 26,
    )
    assert instrument <= lowest + move <= lowest + span + move <= instrument + 26
    same_fingering = instrument - 65
    octaves = [
        same_fingering + 12 * n
        for n in range(-8, 9)
        if instrument <= lowest + same_fingering + 12 * n
        and lowest + span + same_fingering + 12 * n <= instrument + 26
    ]
    if same_fingering in octaves:
        assert move == same_fingering
    elif octaves:
        assert move in octaves


def test_music_that_is_too_wide_is_refused_in_a_sentence() -> None:
    with pytest.raises(SettingsError, match="wider than"):
        semitones_to_fit((60, 90), written_from=60, lowest_midi=60, highest_midi=80)
