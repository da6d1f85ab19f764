"""The chords of the drills: their notes above the root, by the intervals they make with it."""

from intonation.listening.setting import EarSetting

CHORDS: dict[str, tuple[str, ...]] = {
    "major chord": ("unison", "major third", "fifth"),
    "minor chord": ("unison", "minor third", "fifth"),
    "major chord with octave": ("unison", "major third", "fifth", "octave"),
    "minor chord with octave": ("unison", "minor third", "fifth", "octave"),
}

PLACE_NAMES = ("root", "third", "fifth", "octave")
"""What the notes of a chord are called, lowest first."""


def chord_hz(setting: EarSetting, chord: str, *, root_midi: int) -> tuple[float, ...]:
    """Return the frequencies of a chord in tune, root first."""
    return tuple(setting.pair_hz(root_midi, interval)[1] for interval in CHORDS[chord])
