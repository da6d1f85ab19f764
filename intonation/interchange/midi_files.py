"""Standard MIDI Files: every track and channel with notes becomes a part."""

import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import islice
from typing import Any

from intonation.errors import DataFileError
from intonation.exercise.imported_music import (
    LONGEST_IMPORTED_NOTE,
    MOST_IMPORTED_BEATS,
    MOST_IMPORTED_NOTES,
    ImportedMusic,
    ImportedPart,
    TimedNote,
    on_grid,
)
from intonation.interchange.midi_library import mido_library
from intonation.language import say

WHAT_TO_DO = say("Save it again from a notation program as a Standard MIDI File (format 0 or 1).")
_LARGEST_FILE_BYTES = 2_000_000
_MOST_MESSAGES = 500_000
_PERCUSSION_CHANNEL = 9
_MOST_TICKS_PER_BEAT = 0x7FFF


@dataclass(slots=True)
class _Track:
    """What one track said so far."""

    number: int
    name: str = ""
    ticks: int = 0
    sounding: dict[tuple[int, int], list[int]] = field(default_factory=dict)
    notes: dict[int, list[tuple[int, int, int]]] = field(default_factory=dict)


@dataclass(slots=True)
class _Heading:
    """The first title, tempo and metre that any track gives."""

    tempo: float | None = None
    beats_in_bar: int | None = None


def parse_midi(content: bytes, *, file_name: str) -> ImportedMusic:
    """Return the music of a Standard MIDI File.

    Parameters
    ----------
    content
        The file's bytes.
    file_name
        Its name, for sentences.

    Raises
    ------
    DataFileError
        If it is damaged, of another kind, endless, or without a note.

    Notes
    -----
    Format: Standard MIDI Files 1.1 (IMA, 1991).
    """
    if len(content) > _LARGEST_FILE_BYTES:
        raise DataFileError(
            say("{file_name} is far too large for a piece of music.", file_name=file_name),
            WHAT_TO_DO,
        )
    mido = mido_library()
    heading = _Heading()
    try:
        midi_file = mido.MidiFile(file=io.BytesIO(content), clip=True)
        tracks = [
            _read_track(number, messages, heading)
            for number, messages in enumerate(midi_file.tracks, start=1)
        ]
    except Exception as fault:  # on damaged files mido raises a dozen kinds, some of its own
        raise DataFileError(
            say("{file_name} is not a sound MIDI file.", file_name=file_name), WHAT_TO_DO
        ) from fault
    return _music(file_name, tracks, heading, _ticks_per_beat(midi_file, file_name))


def _ticks_per_beat(midi_file: Any, file_name: str) -> int:
    if midi_file.type not in (0, 1):
        raise DataFileError(
            say(
                "{file_name} is a MIDI file of format {type}, whose tracks do not belong together.",
                file_name=file_name,
                type=midi_file.type,
            ),
            WHAT_TO_DO,
        )
    ticks = int(midi_file.ticks_per_beat)
    if not 0 < ticks <= _MOST_TICKS_PER_BEAT:
        raise DataFileError(
            say("{file_name} counts time in film frames instead of beats.", file_name=file_name),
            WHAT_TO_DO,
        )
    return ticks


def _read_track(number: int, messages: Iterable[Any], heading: _Heading) -> _Track:
    track = _Track(number)
    for message in islice(messages, _MOST_MESSAGES):
        track.ticks += max(int(message.time), 0)
        if message.type == "note_on" and message.velocity > 0:
            track.sounding.setdefault((message.channel, message.note), []).append(track.ticks)
        elif message.type in ("note_on", "note_off"):
            _end_note(track, message.channel, message.note)
        elif message.is_meta:
            _read_meta(track, message, heading)
    return track


def _end_note(track: _Track, channel: int, midi: int) -> None:
    started = track.sounding.get((channel, midi))
    if started:
        begin = started.pop(0)
        if track.ticks > begin:
            track.notes.setdefault(channel, []).append((begin, track.ticks, midi))


def _read_meta(track: _Track, message: Any, heading: _Heading) -> None:
    if message.type == "track_name" and not track.name:
        track.name = " ".join(str(message.name).split())
    elif message.type == "set_tempo" and heading.tempo is None and message.tempo > 0:
        heading.tempo = 60e6 / message.tempo
    elif message.type == "time_signature" and heading.beats_in_bar is None:
        quarters = round(4 * message.numerator / message.denominator)
        heading.beats_in_bar = min(max(quarters, 1), 16)


def _music(
    file_name: str, tracks: list[_Track], heading: _Heading, ticks_per_beat: int
) -> ImportedMusic:
    parts = tuple(part for track in tracks for part in _parts(track, ticks_per_beat))
    if not parts:
        raise DataFileError(
            say("{file_name} holds no note to practise.", file_name=file_name), WHAT_TO_DO
        )
    notes = sum(len(part.notes) for part in parts)
    last = max(note.end for part in parts for note in part.notes)
    if notes > MOST_IMPORTED_NOTES or last > MOST_IMPORTED_BEATS:
        raise DataFileError(
            say(
                "{file_name} goes on for {last:.0f} beats with {notes} notes, which is more "
                "than a piece to practise.",
                file_name=file_name,
                last=float(last),
                notes=notes,
            ),
            say("Cut out the part that you want to practise."),
        )
    return ImportedMusic(
        file_name=file_name,
        title=_title(tracks),
        tempo=heading.tempo,
        beats_in_bar=heading.beats_in_bar or 4,
        parts=parts,
    )


def _title(tracks: list[_Track]) -> str:
    """Return the sequence's name: that of the only track, or of a first track without notes."""
    return tracks[0].name if len(tracks) == 1 or not tracks[0].notes else ""


def _parts(track: _Track, ticks_per_beat: int) -> Iterator[ImportedPart]:
    channels = [channel for channel in sorted(track.notes) if channel != _PERCUSSION_CHANNEL]
    for channel in channels:
        notes = tuple(_timed_notes(track.notes[channel], ticks_per_beat))
        name = track.name or say("track {number}", number=track.number)
        if len(channels) > 1:
            name += say(" channel {channel}", channel=channel + 1)
        if notes:
            yield ImportedPart(name, notes)


def _timed_notes(notes: Iterable[tuple[int, int, int]], ticks_per_beat: int) -> Iterator[TimedNote]:
    for begin_ticks, end_ticks, midi in sorted(notes):
        begin = on_grid(Fraction(begin_ticks, ticks_per_beat))
        beats = on_grid(Fraction(end_ticks, ticks_per_beat)) - begin
        if beats > 0:
            yield TimedNote(begin, min(beats, LONGEST_IMPORTED_NOTE), midi)
