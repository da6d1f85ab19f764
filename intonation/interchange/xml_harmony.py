"""Chord symbols of MusicXML as chords that this product can tune."""

from xml.etree.ElementTree import Element

from intonation.pitch.chords import Chord

# MusicXML 4.0, kind-value: what each of its kinds is here. Ninths and more keep their seventh.
_KINDS = {
    "major": "",
    "minor": "m",
    "augmented": "aug",
    "diminished": "dim",
    "dominant": "7",
    "dominant-ninth": "7",
    "dominant-11th": "7",
    "dominant-13th": "7",
    "major-seventh": "maj7",
    "major-ninth": "maj7",
    "major-11th": "maj7",
    "major-13th": "maj7",
    "minor-seventh": "m7",
    "minor-ninth": "m7",
    "minor-11th": "m7",
    "minor-13th": "m7",
    "diminished-seventh": "dim7",
    "half-diminished": "m7b5",
    "major-sixth": "6",
    "minor-sixth": "m6",
    "suspended-fourth": "sus4",
    "power": "5",
}
_STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def chord_of_harmony(harmony: Element) -> Chord | None:
    """Return the chord of a ``<harmony>`` element; None for no chord, or one unknown here."""
    root = _pitch_class(harmony, "root/root-step", "root/root-alter")
    kind = _KINDS.get((harmony.findtext("kind") or "").strip())
    if root is None or kind is None:
        return None
    bass = _pitch_class(harmony, "bass/bass-step", "bass/bass-alter")
    return Chord(root, kind, None if bass == root else bass)


def _pitch_class(harmony: Element, step_path: str, alter_path: str) -> int | None:
    step = _STEPS.get((harmony.findtext(step_path) or "").strip())
    if step is None:
        return None
    alter = (harmony.findtext(alter_path) or "0").strip()
    alterations = {"-2": -2, "-1": -1, "0": 0, "1": 1, "2": 2}
    return (step + alterations.get(alter.removesuffix(".0"), 0)) % 12
