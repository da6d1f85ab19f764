import pytest

from intonation.app.lettering import large
from intonation.pitch.notes import note_name


def test_every_note_name_of_the_piano_can_be_written_large_and_looks_different() -> None:
    names = [note_name(midi) for midi in range(21, 109)]
    assert len({tuple(large(name)) for name in names}) == len(names)


@pytest.mark.parametrize("text", ["+12.4", "−0.5", "0.0", "67890.3"])
def test_large_numbers_are_three_lines_of_one_width(text: str) -> None:
    lines = large(text)
    assert len(lines) == 3
    assert len({len(line) for line in lines}) == 1
