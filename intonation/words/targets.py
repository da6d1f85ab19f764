"""What a note should have been, in words."""

from intonation.assessment.scoring import Target
from intonation.pitch.notes import note_name


def interval_over(target: Target) -> str | None:
    """Return the interval and its bass, such as ``"fifth over the drone F4"``; None without one."""
    if target.interval is None or target.reference_midi is None:
        return None
    drone = f"the drone {note_name(target.reference_midi)}"
    if target.interval == "unison":
        return f"unison with {drone}"
    side = "over" if target.midi > target.reference_midi else "under"
    return f"{target.interval} {side} {drone}"


def target_in_words(target: Target) -> str:
    """Return which target a note was measured against.

    Examples
    --------
    ``"the pure fifth over the drone F4"``, ``"C5 in Vallotti, fifth over the drone F4"``.
    """
    interval = interval_over(target)
    if target.tuning == "pure" and interval is not None:
        pure = "" if target.interval in ("unison", "octave") else "pure "
        return f"the {pure}{interval}"
    tuned = f"{note_name(target.midi)} in {tuning_in_words(target.tuning)}"
    return tuned if interval is None else f"{tuned}, {interval}"


def tuning_in_words(name: str) -> str:
    """Return a tuning's name as it stands in a sentence."""
    return {
        "pure": "pure intervals",
        "equal": "equal temperament",
        "quarter-comma-meantone": "quarter-comma meantone",
        "sixth-comma-meantone": "sixth-comma meantone",
        "vallotti": "Vallotti",
        "kirnberger-3": "Kirnberger III",
        "werckmeister-3": "Werckmeister III",
        "young-1": "Young I",
        "young-2": "Young II",
        "pythagorean": "Pythagorean tuning",
        "just": "just intonation",
    }.get(name, name.replace("-", " "))
