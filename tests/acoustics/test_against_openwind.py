"""The model against openwind, an independent finite-element library (GPL-3, not part of this one).

Its figures stand in tests/golden/openwind_alto.json beside the program that computed them.
"""

import json
from pathlib import Path

import numpy as np
import pytest

from intonation.acoustics.air import air_at
from intonation.acoustics.library import alto_geometry
from intonation.acoustics.playing import playing_frequencies_hz
from tests.support.openwind_cases import CASES, FINGERINGS, NEAR_HZ

FIGURES = Path(__file__).parents[1] / "golden" / "openwind_alto.json"
GOLDEN = json.loads(FIGURES.read_text("utf-8"))
AS_IT_IS = np.array(GOLDEN["playing_hz"]["as it is"])


def ours_hz(case: str) -> np.ndarray:
    return playing_frequencies_hz(CASES[case](alto_geometry()), FINGERINGS, NEAR_HZ)


def test_every_note_of_the_alto_lies_within_half_a_cent_of_the_library() -> None:
    # Handbooks give 331.3 to 331.5 m/s at 0 °C; that choice moves all notes alike, by 0.8 c here.
    speeds = GOLDEN["speed_m_per_s"] / air_at(25.0).speed_m_per_s
    cents = 1200.0 * np.log2(ours_hz("as it is") * speeds / AS_IT_IS)
    np.testing.assert_allclose(cents, 0.0, atol=0.5)
    assert abs(1200.0 * np.log2(speeds)) < 1.0


@pytest.mark.parametrize("case", [case for case in CASES if case != "as it is"])
def test_what_work_does_to_every_note_is_what_the_library_says(case: str) -> None:
    theirs = 1200.0 * np.log2(np.array(GOLDEN["playing_hz"][case]) / AS_IT_IS)
    ours = 1200.0 * np.log2(ours_hz(case) / ours_hz("as it is"))
    np.testing.assert_allclose(ours, theirs, atol=0.1)


@pytest.mark.openwind
@pytest.mark.filterwarnings("ignore")
def test_the_stored_figures_are_what_the_library_computes() -> None:
    from tests.golden.openwind_alto import playing_hz

    np.testing.assert_allclose(playing_hz(alto_geometry()), AS_IT_IS, rtol=1e-6)
