"""However a music file was damaged, it gives an exercise or one sentence, soon."""

import pytest

from intonation.errors import IntonationError
from intonation.exercise.arranging import arrange
from intonation.exercise.exercise_file import parse_exercise
from intonation.exercise.writing import exercise_text
from intonation.interchange.music_files import parse_music
from tests.support.music_samples import STANDARD_MIDI_EXAMPLE, compressed, lead_sheet
from tests.support.mutations import mutated

SAMPLES = {
    "tune.mid": STANDARD_MIDI_EXAMPLE,
    "tune.musicxml": lead_sheet(),
    "tune.mxl": compressed(lead_sheet()),
}


@pytest.mark.parametrize("file_name", SAMPLES)
def test_a_damaged_file_gives_a_readable_exercise_or_a_sentence(file_name: str) -> None:
    outcomes = {outcome(file_name, seed) for seed in range(400)}
    assert outcomes == {"exercise", "sentence"}


def outcome(file_name: str, seed: int) -> str:
    content = mutated(SAMPLES[file_name], seed=seed)
    try:
        exercise = arrange(parse_music(content, file_name=file_name), name="tune")
    except IntonationError as mistake:
        return "sentence" if file_name in mistake.sentence else f"unnamed: {mistake}"
    same = parse_exercise(exercise_text(exercise), file_name="tune.toml") == exercise
    return "exercise" if same else f"not readable: seed {seed}"
