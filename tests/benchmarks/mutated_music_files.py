"""Damage 20,000 files that players bring: each is read or refused in a sentence, soon, in little
memory. MIDI, MusicXML, exercises, temperaments, and SoundFonts, which FluidSynth then sounds.

Run by hand: ``python -m tests.benchmarks.mutated_music_files [COUNT]``. Prints what came of them,
the slowest one, and the most memory that the process ever held.
"""

import resource
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from intonation.errors import IntonationError
from intonation.exercise.arranging import arrange
from intonation.exercise.exercise_file import parse_exercise
from intonation.exercise.library import exercise_named
from intonation.exercise.writing import exercise_text
from intonation.interchange.music_files import parse_music
from intonation.pitch.temperament_file import parse_temperament
from intonation.synth.fluid import FluidSynth
from intonation.synth.fluid_library import why_no_fluidsynth
from intonation.synth.soundfont_reader import read_soundfont
from intonation.synth.sounds import PlayersFont
from intonation.synth.tones import Tone
from tests.support.music_samples import STANDARD_MIDI_EXAMPLE, compressed, lead_sheet
from tests.support.mutations import mutated
from tests.synth.test_soundfont_reader import tiny_font

TEMPERAMENT = b'name = "own"\ncomma = "syntonic"\n[fifths]\nC-G = "1/4"\nG-D = "1/4"\nD-A = "1/4"\n'


def read_as_music(content: bytes, name: str) -> object:
    return arrange(parse_music(content, file_name=name), name="tune")


def read_as_exercise(content: bytes, name: str) -> object:
    return parse_exercise(content.decode("utf-8", "replace"), file_name=name)


def read_as_temperament(content: bytes, name: str) -> object:
    return parse_temperament(content.decode("utf-8", "replace"), file_name=name)


def read_as_soundfont(content: bytes, name: str) -> object:
    """Read a SoundFont, and let FluidSynth sound a note of it where the library is here."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(content)
        preset = read_soundfont(path).presets[0]
        if why_no_fluidsynth() is not None:
            return preset
        font = PlayersFont(path, program=preset.program, bank=preset.bank)
        with closing(FluidSynth(48_000.0, font=font)) as synth:
            synth.set_tones((Tone(440.0),))
            return synth.render(4800)


SAMPLES: dict[str, tuple[bytes, Callable[[bytes, str], object]]] = {
    "tune.mid": (STANDARD_MIDI_EXAMPLE, read_as_music),
    "tune.musicxml": (lead_sheet(), read_as_music),
    "tune.mxl": (compressed(lead_sheet()), read_as_music),
    "tune.toml": (exercise_text(exercise_named("innsbruck")).encode(), read_as_exercise),
    "own.toml": (TEMPERAMENT, read_as_temperament),
    "own.sf2": (tiny_font(), read_as_soundfont),
}


def outcome(name: str, seed: int) -> str:
    content, read = SAMPLES[name]
    try:
        read(mutated(content, seed=seed), name)
    except IntonationError as mistake:
        return "sentence" if name in mistake.sentence else "sentence without the file's name"
    return "read"


def main(count: int) -> None:
    outcomes: Counter[tuple[str, str]] = Counter()
    slowest = (0.0, "", 0)
    names = list(SAMPLES)
    for seed in range(count):
        name = names[seed % len(names)]
        begin = time.perf_counter()
        outcomes[name, outcome(name, seed)] += 1
        slowest = max(slowest, (time.perf_counter() - begin, name, seed))
    for (name, result), number in sorted(outcomes.items()):
        print(f"{name:16} {result:10} {number}")
    print(f"slowest {slowest[0]:.3f} s ({slowest[1]}, seed {slowest[2]})")
    print(f"most memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20_000)
