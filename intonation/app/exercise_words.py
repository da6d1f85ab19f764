"""Words about the exercises: how their chords sound, the player's own, and importing music."""

from pathlib import Path

from intonation.pitch.chords import ChordTuning

OWN, IMPORT, CHORDS, COUNT_IN = "Your own", "Import", "Chords", "Count-in"
ABOUT_IMPORT = (
    "Type the path of a Standard MIDI File or of MusicXML, then choose the part that you play. "
    "Chords come from the file's chord symbols, or from all its parts together."
)
ABOUT_EXERCISE_PAGES = {IMPORT: ABOUT_IMPORT}
READING = "Reading the file …"
ARRANGING = "Making an exercise of it …"
MUSIC_FILE = "path of a .mid, .musicxml or .mxl file"
TEMPERAMENT_FILE = "path of a temperament file (.toml)"
CHOOSE_PART = "Which part do you play? The highest one is marked."


def chords(harmony: ChordTuning | None, *, is_pure: bool) -> str:
    """Return how chords sound."""
    if harmony is None:
        return "pure, as the tuning is" if is_pure else "by the temperament, as the tuning is"
    return {
        "pure": "pure, over roots by the temperament",
        "adapting": "pure, and the roots adapt",
        "tempered": "by the temperament",
    }[harmony]


def count_in(beats: int, *, is_written: bool) -> str:
    """Return how many beats are counted before the first note."""
    counted = {0: "none", 1: "1 beat"}.get(beats, f"{beats} beats")
    return f"{counted}, as written" if is_written else counted


def part(number: int, name: str, notes: int, lowest: str, highest: str) -> str:
    """Return one part of imported music in a line."""
    count = "1 note" if notes == 1 else f"{notes} notes"
    return f"{number:>2}  {name}, {count}, {lowest} to {highest}"


def kept(folder: Path) -> str:
    """Return where an imported exercise is kept."""
    return f"It is kept in {folder}, as a text that you can mend."
