"""Labels and explanations of the page on which a take is looked back at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from intonation.language import say, say_many
from intonation.pitch.notes import note_name
from intonation.words.numbers import sharp_or_flat

if TYPE_CHECKING:
    from intonation.heldnotes.traced_note import TracedNote
    from intonation.store.traces import SeenTake

TRACES = say("Looking back")
READING = say("Reading the record.")
NO_RECORD = say("No practice record is at hand, so there is nothing to look back at.")
IN_NUMBERS = say(
    "Cents from the target: in all, and in each third of the held part. How far above or below "
    "that it begins; over how many dB the breath moves."
)
ONE_AXIS = say("All on one axis; the line in the middle is each note's own target.")

ABOUT_TRACE_PAGES = {
    TRACES: say(
        "Each held note of a take over time: its pitch about its target, and the breath beneath "
        "as the level in dB. The broken lines are 10 cents sharp and flat, which breath can "
        "cover. Nothing is drawn while a note sounds; look, then close your eyes and play again."
    ),
}


def take_shown(take: SeenTake) -> str:
    """Return which take is looked at, in one line."""
    began_at = take.began_at.astimezone()
    drone = "" if take.drone_midi is None else f" · {note_name(take.drone_midi)}"
    return f"{began_at:%Y-%m-%d %H:%M} · {take.player} · {take.instrument}{drone}"


def note_shown(note: TracedNote, place: int, count: int) -> str:
    """Return which note is looked at, and where it lay."""
    lay = sharp_or_flat(note.cents, 1)
    return say(
        "Note {place} of {count}: {note}, {lay}.",
        place=place,
        count=count,
        note=note_name(note.midi),
        lay=lay,
    )


def notes_shown(first: int, last: int, count: int) -> str:
    """Return which notes are looked at side by side."""
    return say_many(
        "One note.", "Notes {first} to {last} of {count}.", count=count, first=first, last=last
    )
