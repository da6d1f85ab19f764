"""The temperaments sound as they are published, wherever their wolf or tonic lies."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.errors import SettingsError
from intonation.pitch.cents import beats_per_second, cents_between
from intonation.pitch.fifths import WOLVES
from intonation.pitch.notes import midi_of_note
from intonation.pitch.temperaments import TEMPERAMENTS, temperament_named
from intonation.pitch.tuning import pure_over, tempered

# The scale files pyth_12, meanquar, meansixth, kirnberger, werck3, vallotti and young.scl that
# the library music21 10.5.1 ships; ratios there are turned into cents here to five places.
PUBLISHED_CENTS = {
    "pythagorean": (
        0, 113.68501, 203.91000, 294.13500, 407.82000, 498.04500,
        611.73001, 701.95500, 815.64001, 905.86500, 996.09000, 1109.77500,
    ),
    "quarter-comma-meantone": (
        0, 76.04900, 193.15686, 310.26471, 386.31371, 503.42157,
        579.47057, 696.57843, 772.62743, 889.73529, 1006.84314, 1082.89214,
    ),
    "sixth-comma-meantone": (
        0, 88.59433, 196.74124, 304.88814, 393.48248, 501.62938,
        590.22372, 698.37062, 786.96495, 895.11186, 1003.25876, 1091.85310,
    ),
    "kirnberger-3": (
        0, 90.22500, 193.15686, 294.13500, 386.31371, 498.04500,
        590.22372, 696.57843, 792.18000, 889.73529, 996.09000, 1088.26871,
    ),
    "werckmeister-3": (
        0, 90.22500, 192.18000, 294.13500, 390.22500, 498.04500,
        588.27000, 696.09000, 792.18000, 888.26999, 996.09000, 1092.18000,
    ),
    "vallotti": (
        0, 94.135, 196.090, 298.045, 392.180, 501.955,
        592.180, 698.045, 796.090, 894.135, 1000.000, 1090.225,
    ),
    "young-2": (
        0, 90.22500, 196.09000, 294.13500, 392.18000, 498.04500,
        588.27000, 698.04500, 792.18000, 894.13500, 996.09000, 1090.22500,
    ),
}  # fmt: skip

# young1.scl of the same collection: twelve ratios to C, rounded to five figures.
YOUNG_1_RATIOS = (
    1, 100000 / 94723, 12500 / 11163, 100000 / 84197, 12500 / 9969, 100000 / 74921,
    100000 / 71041, 50000 / 33411, 25000 / 15787, 25000 / 14919, 100000 / 56131, 12500 / 6653,
)  # fmt: skip

# A. Sanderson's table of Werckmeister III in cents from equal temperament with A at zero, as
# quoted on a public tuning list in 1999.
WERCKMEISTER_FROM_EQUAL = (11.7, 2.0, 3.9, 5.9, 2.0, 9.8, 0.0, 7.8, 3.9, 0.0, 7.8, 3.9)


@pytest.mark.parametrize("name", PUBLISHED_CENTS)
def test_a_temperament_agrees_with_the_published_scale_to_a_hundredth_of_a_cent(name: str) -> None:
    assert temperament_named(name).cents_from_c == pytest.approx(PUBLISHED_CENTS[name], abs=0.01)


def test_young_i_agrees_with_the_published_scale_as_far_as_that_is_rounded() -> None:
    published = [cents_between(ratio, target_hz=1.0) for ratio in YOUNG_1_RATIOS]
    assert temperament_named("young-1").cents_from_c == pytest.approx(published, abs=0.04)


def test_werckmeister_iii_gives_the_offsets_that_tuners_print() -> None:
    offsets = temperament_named("werckmeister-3").cents_from_equal
    assert offsets == pytest.approx(WERCKMEISTER_FROM_EQUAL, abs=0.05)


# S. Teki, S. Kumar et al., J. Neurosci. 32(35):12251 (2012), Table 1, after B. Capleton, Theory
# and Practice of Piano Tuning (2007): beats per second in equal temperament at A4 = 440 Hz.
PUBLISHED_BEATS = (
    [(low, high, (5, 4), beats) for low, high, beats in (
        ("F3", "A3", 6.9), ("G3", "B3", 7.8), ("A3", "C#4", 8.7), ("C4", "E4", 10.4))]
    + [(low, high, (3, 2), beats) for low, high, beats in (
        ("F3", "C4", 0.6), ("G3", "D4", 0.7), ("A3", "E4", 0.7), ("Bb3", "F4", 0.8))]
    + [(low, high, (4, 3), beats) for low, high, beats in (
        ("F3", "Bb3", 0.8), ("G3", "C4", 0.9), ("A3", "D4", 1.0), ("C4", "F4", 1.2))]
    + [(low, high, (5, 3), beats) for low, high, beats in (
        ("F3", "D4", 7.9), ("G3", "E4", 8.9))]
    + [("F3", "Ab3", (6, 5), 9.4), ("A3", "C4", (6, 5), 11.9)]
    + [("F3", "Db4", (8, 5), 11.0), ("A3", "F4", (8, 5), 13.9)]
)  # fmt: skip


@pytest.mark.parametrize(("low", "high", "ratio", "beats"), PUBLISHED_BEATS)
def test_equal_temperament_beats_as_often_as_the_piano_tuners_table_says(
    low: str, high: str, ratio: tuple[int, int], beats: float
) -> None:
    equal = tempered(temperament_named("equal"), a4_hz=440.0)
    lower_hz, upper_hz = equal.hz(midi_of_note(low)), equal.hz(midi_of_note(high))
    counted = beats_per_second(upper_hz, against_hz=lower_hz, ratio=ratio)
    assert counted == pytest.approx(beats, abs=0.051)  # 0.745 is printed as 0.7


def test_quarter_comma_meantone_has_eight_major_thirds_that_do_not_beat() -> None:
    tuning = tempered(temperament_named("quarter-comma-meantone"), a4_hz=440.0)
    beats = [
        beats_per_second(tuning.hz(midi + 4), against_hz=tuning.hz(midi), ratio=(5, 4))
        for midi in range(60, 72)
    ]
    assert sum(each < 1e-6 for each in beats) == 8  # common practice: eight good, four wolves


@pytest.mark.parametrize("name", TEMPERAMENTS)
def test_a_is_the_concert_pitch_in_every_temperament(name: str) -> None:
    assert tempered(temperament_named(name), a4_hz=415.0).hz(69) == pytest.approx(415.0)


@given(st.sampled_from(sorted(WOLVES)))
def test_moving_the_wolf_leaves_eleven_equal_fifths_and_puts_the_twelfth_there(wolf: str) -> None:
    temperament = temperament_named(f"quarter-comma-meantone-wolf-{wolf}")
    cents = temperament.cents_from_c
    fifths = [(cents[(pc + 7) % 12] - cents[pc]) % 1200 for pc in range(12)]
    assert sum(width == pytest.approx(696.578, abs=1e-3) for width in fifths) == 11
    start = (midi_of_note(f"{WOLVES[wolf]}4")) % 12
    assert fifths[(start - 7) % 12] == pytest.approx(737.637, abs=1e-3)


def test_the_wolf_can_be_moved_for_flat_keys_so_that_a_flat_is_a_pure_third_below_c() -> None:
    cents = temperament_named("quarter-comma-meantone-wolf-C#-Ab").cents_from_c
    assert 1200 - cents[8] == pytest.approx(386.3137, abs=1e-3)


@given(st.integers(0, 11))
def test_just_intonation_on_any_tonic_is_pure_over_that_tonic(tonic: int) -> None:
    names = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")
    just = tempered(temperament_named(f"just-on-{names[tonic]}"), a4_hz=440.0)
    over = pure_over(60 + tonic, within=just)
    assert over.cents_from_equal == pytest.approx(just.cents_from_equal, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("valotti", "vallotti"),
        ("nonsense", "Choose one of equal"),
        ("vallotti-wolf-C#-Ab", "quarter-comma-meantone"),
        ("pythagorean-wolf-H", "G#-Eb"),
        ("just-on-H", "Eb"),
    ],
)
def test_an_unknown_temperament_is_answered_with_one_that_exists(name: str, hint: str) -> None:
    with pytest.raises(SettingsError) as mistake:
        temperament_named(name)
    assert hint in str(mistake.value)
