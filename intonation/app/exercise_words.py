"""Words about the exercises: how their chords sound, the player's own, and importing music."""

from pathlib import Path

from intonation.language import say, say_many
from intonation.pitch.chords import ChordTuning

OWN, IMPORT, CHORDS, COUNT_IN = say("Your own"), say("Import"), say("Chords"), say("Count-in")
ABOUT_IMPORT = say(
    "Type the path of a Standard MIDI File or of MusicXML, then choose the part that you play. "
    "Chords come from the file's chord symbols, or from all its parts together."
)
ABOUT_EXERCISE_PAGES = {IMPORT: ABOUT_IMPORT}
READING = say("Reading the file …")
ARRANGING = say("Making an exercise of it …")
MUSIC_FILE = say("path of a .mid, .musicxml or .mxl file")
TEMPERAMENT_FILE = say("path of a temperament file (.toml)")
CHOOSE_PART = say("Which part do you play? The highest one is marked.")


def chords(harmony: ChordTuning | None, *, is_pure: bool) -> str:
    """Return how chords sound."""
    if harmony is None:
        return (
            say("pure, as the tuning is")
            if is_pure
            else say("by the temperament, as the tuning is")
        )
    return {
        "pure": say("pure, over roots by the temperament"),
        "adapting": say("pure, and the roots adapt"),
        "tempered": say("by the temperament"),
    }[harmony]


def count_in(beats: int, *, is_written: bool) -> str:
    """Return how many beats are counted before the first note."""
    counted = say_many("{count} beat", "{count} beats", count=beats) if beats else say("none")
    return say("{counted}, as written", counted=counted) if is_written else counted


def part(number: int, name: str, notes: int, lowest: str, highest: str) -> str:
    """Return one part of imported music in a line."""
    count = say_many("1 note", "{count} notes", count=notes)
    return say(
        "{number:>2}  {name}, {count}, {lowest} to {highest}",
        number=number,
        name=name,
        count=count,
        lowest=lowest,
        highest=highest,
    )


def kept(folder: Path) -> str:
    """Return where an imported exercise is kept."""
    return say("It is kept in {folder}, as a text that you can mend.", folder=folder)
