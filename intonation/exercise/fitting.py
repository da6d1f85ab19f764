"""Moving an exercise to an instrument: same fingerings where possible, else the nearest fit."""

from intonation.errors import SettingsError
from intonation.language import say
from intonation.pitch.notes import note_name


def semitones_to_fit(
    midi_range: tuple[int, int], *, written_from: int, lowest_midi: int, highest_midi: int
) -> int:
    """Return by how many semitones to move music so that an instrument can play it.

    Parameters
    ----------
    midi_range
        Lowest and highest note of the music.
    written_from
        Lowest note of the instrument that the music is written for. The distance between the
        lowest notes of both instruments keeps every fingering, and is taken wherever it fits.
    lowest_midi, highest_midi
        The instrument's range.

    Raises
    ------
    SettingsError
        If the music is wider than the instrument.
    """
    lowest, highest = midi_range
    same_fingering = lowest_midi - written_from
    fitting = range(lowest_midi - lowest, highest_midi - highest + 1)
    if not fitting:
        raise SettingsError(
            say(
                "The music spans {lowest} to {highest}, which is wider than the "
                "instrument's {lowest_playable} to {highest_playable}.",
                lowest=note_name(lowest),
                highest=note_name(highest),
                lowest_playable=note_name(lowest_midi),
                highest_playable=note_name(highest_midi),
            ),
            say("Choose another instrument, or leave out the notes at the edge."),
        )
    return min(fitting, key=lambda move: _distance(move, same_fingering))


def _distance(move: int, same_fingering: int) -> tuple[bool, bool, int, int]:
    """Order moves: the same fingerings, else octaves of them, else whatever is nearest."""
    away = move - same_fingering
    return away != 0, away % 12 != 0, abs(away), away
