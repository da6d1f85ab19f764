"""The notation of fingerings and what it says about a note."""

import pytest

from intonation.instruments.fingering import Fingering


@pytest.mark.parametrize("text", ["", "0 123 456", "0 132 4567", "0 123 4567b", "x 123 4567", "0"])
def test_text_outside_the_notation_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a fingering"):
        Fingering(text)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("0 123 4567", "plain"),
        ("0 12- ----", "plain"),
        ("0 123 4-67", "fork"),
        ("0 -2- ----", "fork"),
        ("0 123 456a-", "half"),
        ("/ 123 45--", "thumb"),
        ("/ 12- -567a", "thumb"),
    ],
)
def test_the_most_delicate_part_of_a_fingering_names_its_kind(text: str, kind: str) -> None:
    assert Fingering(text).kind == kind


def test_only_wholly_open_finger_holes_can_be_shaded() -> None:
    assert Fingering("- 1-3 456a-").open_fingers == ("2", "7")


def test_a_half_holed_pair_has_its_first_small_hole_closed() -> None:
    fractions = Fingering("/ 123 456a7").open_fractions()
    assert (fractions["6a"], fractions["6b"]) == (0.0, 1.0)
    assert (fractions["7a"], fractions["7b"]) == (0.0, 0.0)
    assert 0.0 < fractions["0"] < 0.5


@pytest.mark.parametrize(("ring", "open_share"), [("6", 0.0), ("6a", 0.5), ("-", 1.0)])
def test_where_there_is_no_pair_half_a_hole_is_half_open(ring: str, open_share: float) -> None:
    assert Fingering(f"0 123 45{ring}-").open_fractions()["6"] == open_share


def test_a_stopped_foot_is_part_of_the_fingering() -> None:
    assert Fingering("/ 1-3 4-6- bell").bell
    assert not Fingering("/ 1-3 4-6-").bell
