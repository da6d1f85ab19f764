"""Chords are read from their symbols and tuned pure, tempered, or adapting to what came before."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.pitch.cents import beats_per_second, cents_between
from intonation.pitch.chords import (
    CHORD_KINDS,
    MOST_ADAPTING_CENTS,
    Chord,
    parse_chord,
    tune_chord,
)
from intonation.pitch.temperaments import TEMPERAMENTS, temperament_named
from intonation.pitch.tuning import Tuning, tempered

EQUAL = tempered(temperament_named("equal"), a4_hz=440.0)
chords = st.builds(Chord, st.integers(0, 11), st.sampled_from(sorted(CHORD_KINDS)))
temperaments = st.sampled_from(sorted(TEMPERAMENTS)).map(
    lambda name: tempered(temperament_named(name), a4_hz=440.0)
)


@pytest.mark.parametrize(
    ("symbol", "classes"),
    [
        ("C", {0, 4, 7}),
        ("Bbm", {10, 1, 5}),
        ("F#7", {6, 10, 1, 4}),
        ("Gm7/Bb", {7, 10, 2, 5}),
        ("C/D", {0, 4, 7, 2}),
        ("Ebmaj7", {3, 7, 10, 2}),
        ("B°", {11, 2, 5}),
        ("A♭+", {8, 0, 4}),
    ],
)
def test_a_symbol_names_its_notes(symbol: str, classes: set[int]) -> None:
    assert set(parse_chord(symbol).pitch_classes) == classes


# Semitones above the root of each kind (common practice, no source).
SEMITONES = {
    "": (0, 4, 7), "m": (0, 3, 7), "5": (0, 7), "sus4": (0, 5, 7), "6": (0, 4, 7, 9),
    "7": (0, 4, 7, 10), "maj7": (0, 4, 7, 11), "m7": (0, 3, 7, 10), "dim": (0, 3, 6),
    "aug": (0, 4, 8), "m6": (0, 3, 7, 9), "m7b5": (0, 3, 6, 10), "dim7": (0, 3, 6, 9),
}  # fmt: skip


def test_every_kind_of_chord_has_the_notes_that_musicians_expect() -> None:
    assert {
        kind: tuple(member.semitones for member in members) for kind, members in CHORD_KINDS.items()
    } == SEMITONES


@given(st.sampled_from(sorted(CHORD_KINDS)))
def test_a_pure_member_lies_within_a_fifth_of_a_semitone_of_the_key_that_is_written(
    kind: str,
) -> None:
    tuned = tune_chord(Chord(0, kind), how="pure", within=EQUAL)
    assert all(abs(cents) < 20 for cents in tuned.cents_from_equal.values())


@given(chords)
def test_a_chord_is_read_back_from_its_own_symbol(chord: Chord) -> None:
    assert parse_chord(chord.symbol) == chord


@given(chords, st.none() | st.integers(0, 11), st.integers(-24, 24))
def test_a_moved_chord_has_all_its_notes_moved_the_bass_too(
    chord: Chord, bass: int | None, semitones: int
) -> None:
    whole = Chord(chord.root, chord.kind, bass)
    moved = whole.transposed(semitones)
    assert moved.pitch_classes == tuple((pc + semitones) % 12 for pc in whole.pitch_classes)
    assert bass is None or moved.bass == (bass + semitones) % 12


@pytest.mark.parametrize("symbol", ["", "H", "Cx", "C/", "c", "Cm7sus", "C" * 500])
def test_what_is_no_chord_is_refused_with_examples(symbol: str) -> None:
    with pytest.raises(SettingsError, match="F/A"):
        parse_chord(symbol)


# Cents from equal temperament of the notes of a pure chord: H. von Helmholtz, On the Sensations
# of Tone, ch. 12 (from memory); common practice among choirs and consorts.
@pytest.mark.parametrize(
    ("symbol", "pitch_class", "cents"),
    [("F", 9, -13.69), ("F", 0, 1.96), ("Dm", 5, 15.64), ("C7", 10, -3.91), ("Dm7", 0, 17.60)],
)
def test_a_member_of_a_pure_chord_stands_where_the_books_have_it(
    symbol: str, pitch_class: int, cents: float
) -> None:
    tuned = tune_chord(parse_chord(symbol), how="pure", within=EQUAL)
    assert tuned.cents_from_equal[pitch_class] == pytest.approx(cents, abs=0.01)


@given(chords, temperaments)
def test_the_root_of_a_pure_chord_keeps_its_place_in_the_temperament(
    chord: Chord, tuning: Tuning
) -> None:
    tuned = tune_chord(chord, how="pure", within=tuning)
    assert tuned.hz(60 + chord.root) == pytest.approx(tuning.hz(60 + chord.root))


def test_a_pure_triad_does_not_beat_in_any_octave() -> None:
    tuned = tune_chord(parse_chord("F"), how="pure", within=EQUAL)
    assert beats_per_second(tuned.hz(69), against_hz=tuned.hz(65), ratio=(5, 4)) < 1e-9
    assert beats_per_second(tuned.hz(84), against_hz=tuned.hz(53), ratio=(6, 1)) < 1e-9


@given(chords, temperaments)
def test_a_tempered_chord_is_the_temperament(chord: Chord, tuning: Tuning) -> None:
    tuned = tune_chord(chord, how="tempered", within=tuning)
    assert not tuned.is_pure
    assert all(tuned.hz(60 + pc) == pytest.approx(tuning.hz(60 + pc)) for pc in chord.pitch_classes)


def test_a_diminished_chord_follows_the_temperament_even_where_chords_are_pure() -> None:
    tuned = tune_chord(parse_chord("Edim"), how="pure", within=EQUAL)
    assert not tuned.is_pure


def test_adapting_keeps_the_note_that_two_chords_share() -> None:
    first = tune_chord(parse_chord("F"), how="adapting", within=EQUAL)
    second = tune_chord(parse_chord("C"), how="adapting", within=EQUAL, before=first)
    moved = cents_between(second.hz(72), target_hz=first.hz(72))
    assert moved == pytest.approx(0.0, abs=1e-9)
    held = tune_chord(parse_chord("C"), how="pure", within=EQUAL)
    assert cents_between(held.hz(72), target_hz=first.hz(72)) == pytest.approx(-1.955, abs=1e-3)


def test_adapting_without_a_common_note_keeps_the_root_in_the_temperament() -> None:
    first = tune_chord(parse_chord("C"), how="adapting", within=EQUAL)
    second = tune_chord(parse_chord("D"), how="adapting", within=EQUAL, before=first)
    assert second.hz(62) == pytest.approx(EQUAL.hz(62))


@given(st.lists(chords, min_size=2, max_size=30), temperaments)
def test_adapting_chords_stay_pure_and_never_drift_away(
    progression: list[Chord], tuning: Tuning
) -> None:
    before = None
    for chord in progression:
        tuned = tune_chord(chord, how="adapting", within=tuning, before=before)
        root_midi = 60 + chord.root
        drift = cents_between(tuned.hz(root_midi), target_hz=tuning.hz(root_midi))
        assert abs(drift) <= MOST_ADAPTING_CENTS + 1e-6
        for member in chord.members:
            if member.ratio is not None:
                ratio = tuned.hz(root_midi + member.semitones) / tuned.hz(root_midi)
                assert ratio == pytest.approx(float(member.ratio))
        before = tuned
