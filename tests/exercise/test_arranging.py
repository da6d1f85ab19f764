"""Imported music becomes a melody with chords under it and places to breathe."""

from fractions import Fraction

import pytest

from intonation.errors import DataFileError
from intonation.exercise.arranging import arrange
from intonation.exercise.exercise_file import parse_exercise
from intonation.exercise.imported_music import ImportedMusic, ImportedPart, TimedChord, TimedNote
from intonation.exercise.pieces import Exercise
from intonation.exercise.writing import exercise_text
from intonation.pitch.chords import parse_chord
from intonation.pitch.notes import midi_of_note


def part(name: str, *notes: tuple[str, float, float]) -> ImportedPart:
    timed = (TimedNote(Fraction(s), Fraction(b), midi_of_note(n)) for n, s, b in notes)
    return ImportedPart(name, tuple(timed))


def music(*parts: ImportedPart, chords: tuple[TimedChord, ...] = ()) -> ImportedMusic:
    return ImportedMusic(file_name="tune.mid", parts=parts, chords=chords)


MELODY = part("Treble", ("A5", 0, 2), ("G5", 2, 2), ("F5", 4, 4))
BASS = part("Bass", ("F3", 0, 2), ("C3", 2, 2), ("F3", 4, 4))
TENOR = part("Tenor", ("C4", 0, 2), ("E4", 2, 2), ("A3", 4, 4))


def symbols(exercise: Exercise) -> list[str]:
    return [
        written.chord.symbol if written.chord else "none"
        for phrase in exercise.phrases
        for written in phrase.chords
    ]


def test_the_highest_part_is_the_melody_unless_another_is_chosen() -> None:
    whole = music(BASS, MELODY, TENOR)
    assert arrange(whole, name="tune").phrases[0].notes[0].midi == 81
    assert arrange(whole, name="tune", melody="Tenor").phrases[0].notes[0].midi == 60
    assert arrange(whole, name="tune", melody="1").phrases[0].notes[0].midi == 53


def test_the_other_parts_give_the_chords() -> None:
    assert symbols(arrange(music(MELODY, TENOR, BASS), name="tune")) == ["F", "C", "F"]


def test_a_passing_note_does_not_change_the_chord() -> None:
    passing = part("Treble", ("A5", 0, 0.75), ("Bb5", 0.75, 0.25), ("C6", 1, 3))
    exercise = arrange(music(passing, part("Bass", ("F3", 0, 4)), part("Tenor", ("C4", 0, 4))),
                       name="tune")  # fmt: skip
    assert symbols(exercise)[0] == "F"


def test_a_clash_of_many_notes_keeps_the_chord_before() -> None:
    chord = part("Choir", ("F3", 0, 4), ("C4", 0, 4), ("A4", 0, 4))
    cluster = part("Organ", *[(name, 4, 4) for name in ("C4", "C#4", "D4", "Eb4", "E4", "F4")])
    exercise = arrange(music(MELODY, chord, cluster), name="tune", melody="Treble")
    assert symbols(exercise) == ["F"]


def test_chord_symbols_of_the_file_go_before_our_own_guess() -> None:
    written = (
        TimedChord(Fraction(0), parse_chord("Dm")),
        TimedChord(Fraction(4), parse_chord("Bb")),
    )
    exercise = arrange(music(MELODY, BASS, chords=written), name="tune")
    assert symbols(exercise) == ["Dm", "Bb"]


def test_a_melody_alone_has_no_chords() -> None:
    assert symbols(arrange(music(MELODY), name="tune")) == []


def test_of_notes_together_the_upper_one_is_played_until_the_next_begins() -> None:
    piano = part("Piano", ("F4", 0, 8), ("A5", 0, 3), ("C6", 2, 2), ("F5", 4, 1.75), ("G5", 6, 2))
    notes = arrange(music(piano), name="tune").phrases[0].notes
    assert [(n.midi, n.beats) for n in notes] == [(81, 2), (84, 2), (77, 2), (79, 2)]


def test_a_rest_is_a_place_to_breathe() -> None:
    sung = part("Voice", ("A5", 0, 4), ("G5", 4, 2), ("F5", 8, 4))
    phrases = arrange(music(sung), name="tune").phrases
    assert [len(phrase.notes) for phrase in phrases] == [2, 1]
    assert phrases[0].breath == 2


def test_a_short_rest_within_a_phrase_is_kept_and_a_tiny_gap_is_not() -> None:
    sung = part("Voice", ("A5", 0, 1.25), ("G5", 2, 1.75), ("F5", 4, 2))
    (phrase,) = arrange(music(sung), name="tune").phrases
    assert [(n.midi, n.beats) for n in phrase.notes] == [
        (81, Fraction(5, 4)), (None, Fraction(3, 4)), (79, 2), (77, 2),
    ]  # fmt: skip


def test_a_player_gets_a_beat_to_breathe_where_the_music_gives_none() -> None:
    marked = ImportedPart(
        "Voice",
        (TimedNote(Fraction(0), Fraction(4), 81, True), TimedNote(Fraction(4), Fraction(4), 79)),
    )
    phrases = arrange(music(marked), name="tune").phrases
    assert [(len(phrase.notes), phrase.breath) for phrase in phrases] == [(1, 1), (1, 1)]


def test_no_breath_is_longer_than_a_bar() -> None:
    sung = part("Voice", ("A5", 0, 4), ("G5", 40, 4))
    assert arrange(music(sung), name="tune").phrases[0].breath == 4


def test_a_note_held_for_minutes_is_cut_to_what_a_player_can_hold() -> None:
    endless = part("Organ", ("A5", 0, 64))
    assert arrange(music(endless), name="tune").phrases[0].beats == 32


def test_music_marked_as_without_chords_has_none() -> None:
    unaccompanied = (TimedChord(Fraction(0), None),)
    assert symbols(arrange(music(MELODY, BASS, chords=unaccompanied), name="tune")) == []


def test_a_stretch_without_chords_is_silent_between_others() -> None:
    written = (
        TimedChord(Fraction(0), parse_chord("F")),
        TimedChord(Fraction(2), None),
        TimedChord(Fraction(4), parse_chord("F")),
    )
    assert symbols(arrange(music(MELODY, chords=written), name="tune")) == ["F", "none", "F"]


def test_the_tempo_is_kept_within_what_can_be_practised() -> None:
    fast = ImportedMusic(file_name="t.mid", parts=(MELODY,), tempo=999.0, beats_in_bar=3)
    exercise = arrange(fast, name="tune")
    assert (exercise.tempo, exercise.count_in) == (240.0, 3)
    assert arrange(music(MELODY), name="tune").tempo == 60.0


def test_long_music_without_rests_is_divided_at_bar_lines() -> None:
    endless = part("Voice", *[("A5", beat, 1) for beat in range(64)])
    phrases = arrange(music(endless), name="tune").phrases
    assert [phrase.beats for phrase in phrases] == [16, 16, 16, 16]


def test_what_was_arranged_can_be_kept_as_a_file() -> None:
    exercise = arrange(music(MELODY, TENOR, BASS), name="tune")
    assert parse_exercise(exercise_text(exercise), file_name="tune.toml") == exercise


@pytest.mark.parametrize(("wanted", "hint"), [("Trebel", "Treble"), ("9", "1 Treble, 2 Bass")])
def test_a_part_that_is_not_there_is_answered_with_those_that_are(wanted: str, hint: str) -> None:
    with pytest.raises(DataFileError, match=hint):
        arrange(music(MELODY, BASS), name="tune", melody=wanted)


def test_a_part_beyond_every_recorder_is_refused() -> None:
    with pytest.raises(DataFileError, match="far beyond any recorder"):
        arrange(music(part("Contrabass", ("A0", 0, 4))), name="tune")
