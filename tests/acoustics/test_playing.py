"""The model plays the right notes, and moves them the way published rules say."""

import numpy as np
import pytest
from numpy.typing import NDArray

from intonation.acoustics.alterations import Alteration, Work, altered
from intonation.acoustics.geometry import BorePoint, Geometry
from intonation.acoustics.library import SEMITONES_ABOVE_ALTO, alto_geometry, geometry_of
from intonation.acoustics.playing import playing_frequencies_hz
from intonation.pitch.notes import equal_tempered_hz
from tests.support.recorder_fingerings import CHART, open_fractions

MIDI = list(CHART)
FINGERINGS = [open_fractions(closed) for closed in CHART.values()]


def cents_off(geometry: Geometry, *, celsius: float = 25.0, semitones: int = 0) -> NDArray:
    near = [equal_tempered_hz(midi + semitones, a4_hz=440.0) for midi in MIDI]
    playing = playing_frequencies_hz(geometry, FINGERINGS, near, celsius=celsius)
    return 1200.0 * np.log2(playing / np.array(near))


def effect_of(work: Work, **how: object) -> dict[int, float]:
    geometry = alto_geometry()
    change = cents_off(altered(geometry, Alteration(work=work, **how))) - cents_off(geometry)
    return dict(zip(MIDI, change, strict=True))


def test_the_alto_plays_every_note_of_the_chart_within_three_cents() -> None:
    assert np.max(np.abs(cents_off(alto_geometry()))) < 3.0


@pytest.mark.parametrize("size", SEMITONES_ABOVE_ALTO)
def test_every_size_plays_its_own_compass(size: str) -> None:
    # Scaled from the alto; wall losses grow in a small bore, so allow more.
    off = cents_off(geometry_of(size), semitones=SEMITONES_ABOVE_ALTO[size])
    assert np.max(np.abs(off)) < 17.0


def test_five_degrees_cooler_is_about_fourteen_and_a_half_cents_flatter_on_every_note() -> None:
    # 600 / (ln 2 · T) cents per kelvin for an ideal gas makes 14.6 c; thinner wall losses in the
    # cooler air take back about 0.1 c.
    change = cents_off(alto_geometry(), celsius=20.0) - cents_off(alto_geometry())
    np.testing.assert_allclose(change, -14.5, atol=0.15)


def test_pulling_the_head_moves_the_shortest_tube_twice_as_much_as_the_longest() -> None:
    # Taylor Historic Music: notes near two-finger fingerings move twice as much as all-fingers.
    pulled = effect_of("pull the head joint", amount_mm=1.0)
    assert all(change < 0 for change in pulled.values())
    assert pulled[79] / pulled[65] == pytest.approx(2.0, abs=0.2)


@pytest.mark.parametrize(
    ("hole", "first_open_for"), [("4", 72), ("3", 74), ("2", 76), ("1", 77), ("0", 78)]
)
def test_a_hole_mainly_moves_the_notes_whose_first_open_hole_it_is(
    hole: str, first_open_for: int
) -> None:
    # Common practice, no source; Markwick's flute-maker course states the same for flutes.
    moved = effect_of("enlarge a hole", amount_mm=0.1, hole=hole)
    assert moved[first_open_for] > 2.0
    closed = [midi for midi in MIDI if midi < 81 and f" {hole} " in f" {CHART[midi]} "]
    assert max(abs(moved[midi]) for midi in closed) < 0.25


def test_moving_a_hole_changes_the_lower_octave_more_than_the_upper() -> None:
    # A rule of makers (common practice, no source): two knobs for two registers.
    up = effect_of("undercut towards the window", amount_mm=1.0, hole="4")
    wider = effect_of("enlarge a hole", amount_mm=0.5, hole="4")
    position_only = {midi: up[midi] - wider[midi] for midi in (72, 84)}
    assert position_only[72] > position_only[84] > 0.0


def test_a_strip_at_the_top_of_the_middle_joint_narrows_overblown_octaves() -> None:
    # Makers' rule (common practice, no source); the fingered octaves on F and G widen instead.
    lined = effect_of("line the bore", amount_mm=0.2, from_mm=81.0, to_mm=111.0)
    assert all(lined[low + 12] - lined[low] < 0.0 for low in range(69, 77))
    assert lined[77] - lined[65] > 0.0
    assert lined[79] - lined[67] > 0.0


def test_clay_at_the_window_lowers_everything_by_about_the_same() -> None:
    lowered = np.array(list(effect_of("clay at the window", amount_mm=1.0).values()))
    assert np.all(lowered < 0.0)
    assert np.ptp(lowered[:12]) < 4.5


@pytest.mark.parametrize(
    ("closed", "midi"),
    [
        ("0 2 3", 76),
        ("1 2 3", 77),
        ("0 3 4", 77),
        ("0", 78),
        ("1 2 3 4 5 6a 6b 7a 7b", 79),
        ("3 4", 79),
        ("1 2 3 4 5 6a 6b", 80),
        ("1 2 3 4 6a 6b 7a 7b", 81),
    ],
)
def test_published_alternative_fingerings_sound_the_note_that_the_charts_give(
    closed: str, midi: int
) -> None:
    # Charts quoted in the instrument files (Lander, Munn, Toft; Dolmetsch lessons).
    near = equal_tempered_hz(midi, a4_hz=440.0)
    (playing,) = playing_frequencies_hz(alto_geometry(), [open_fractions(closed)], [near])
    assert abs(1200.0 * np.log2(playing / near)) < 50.0


def test_a_plain_cylinder_sounds_half_a_wavelength_of_its_corrected_length() -> None:
    # f = c / 2 L for an open pipe, lowered by the slower wave along the wall: 1.045 / r_v with
    # r_v = a √(ω ρ / η) = 118 (Keefe 1984), which is 15.3 cents.
    tube = Geometry(
        name="tube",
        source="textbook",
        window_mm=5.5,
        head_joint_mm=50.0,
        bore=(BorePoint(0.0, 9.0), BorePoint(400.0, 9.0)),
        holes=(),
    )
    length_m = (400.0 + 5.5 + 0.6133 * 9.0) / 1000.0
    (playing,) = playing_frequencies_hz(tube, [{}], [346.13 / (2 * length_m)])
    assert 1200.0 * np.log2(playing * 2 * length_m / 346.13) == pytest.approx(-15.3, abs=1.0)
