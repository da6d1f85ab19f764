"""What a note should have been, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from intonation.language import name_in_words, say
from intonation.pitch.notes import note_name

if TYPE_CHECKING:
    from intonation.assessment.scoring import Target


def interval_over(target: Target) -> str | None:
    """Return the interval and its bass, such as ``"fifth over the drone F4"``; None without one."""
    if target.interval is None or target.reference_midi is None:
        return None
    drone = say("the drone {note}", note=note_name(target.reference_midi))
    if target.interval == "unison":
        return say("unison with {drone}", drone=drone)
    interval = name_in_words(target.interval)
    if target.midi > target.reference_midi:
        return say("{interval} over {drone}", interval=interval, drone=drone)
    return say("{interval} under {drone}", interval=interval, drone=drone)


def target_in_words(target: Target) -> str:
    """Return which target a note was measured against.

    Examples
    --------
    ``"the pure fifth over the drone F4"``, ``"C5 in Vallotti, fifth over the drone F4"``.
    """
    interval = interval_over(target)
    if target.tuning == "pure" and interval is not None:
        if target.interval in ("unison", "octave"):
            return say("the {interval}", interval=interval)
        return say("the pure {interval}", interval=interval)
    tuned = say(
        "{note} in {tuning}", note=note_name(target.midi), tuning=tuning_in_words(target.tuning)
    )
    return tuned if interval is None else f"{tuned}, {interval}"


def tuning_in_words(name: str) -> str:
    """Return a tuning's name as it stands in a sentence."""
    return {
        "pure": say("pure intervals"),
        "equal": say("equal temperament"),
        "quarter-comma-meantone": say("quarter-comma meantone"),
        "sixth-comma-meantone": say("sixth-comma meantone"),
        "vallotti": say("Vallotti"),
        "kirnberger-3": say("Kirnberger III"),
        "werckmeister-3": say("Werckmeister III"),
        "young-1": say("Young I"),
        "young-2": say("Young II"),
        "pythagorean": say("Pythagorean tuning"),
        "just": say("just intonation"),
    }.get(name, name.replace("-", " "))
