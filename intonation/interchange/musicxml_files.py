"""MusicXML: every voice of every part, and the chord symbols written over them."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from xml.etree.ElementTree import Element

from intonation.errors import DataFileError
from intonation.exercise.imported_music import (
    LONGEST_IMPORTED_NOTE,
    MOST_IMPORTED_BEATS,
    MOST_IMPORTED_NOTES,
    ImportedMusic,
    ImportedPart,
    TimedChord,
    TimedNote,
    on_grid,
)
from intonation.interchange.xml_harmony import chord_of_harmony
from intonation.interchange.xml_text import WHAT_TO_DO, parse_xml, unpacked
from intonation.language import say

_STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


@dataclass(slots=True)
class _Reading:
    """What one part said so far; ``at`` is the present moment in quarter notes."""

    file_name: str
    part_name: str
    measure: str = "1"
    divisions: Fraction = Fraction(1)
    transpose: int = 0
    at: Fraction = Fraction(0)
    last_start: Fraction = Fraction(0)
    farthest: Fraction = Fraction(0)
    tempo: float | None = None
    beats_in_bar: int | None = None
    voices: dict[str, list[TimedNote]] = field(default_factory=dict)
    tied: dict[tuple[str, int], int] = field(default_factory=dict)
    chords: list[TimedChord] = field(default_factory=list)

    def wrong(self, problem: str) -> DataFileError:
        return DataFileError(
            say(
                "{file_name}, {part_name}, bar {measure}: {problem}",
                file_name=self.file_name,
                part_name=self.part_name,
                measure=self.measure,
                problem=problem,
            ),
            WHAT_TO_DO,
        )

    def number(self, element: Element, path: str, default: float | None = None) -> Fraction:
        """Return a number of moderate size; never left to Fraction, which accepts 1e999999999."""
        text = element.findtext(path)
        if text is None and default is not None:
            return Fraction(default)
        try:
            value = float(text or "")
        except ValueError:
            value = math.nan
        if not abs(value) < 1e6:
            raise self.wrong(say("<{path}> {text!r} is not a usable number.", path=path, text=text))
        return Fraction(value).limit_denominator(10_000)


def parse_musicxml(content: bytes, *, file_name: str) -> ImportedMusic:
    """Return the music of a MusicXML file, compressed or not. Repeats are played once.

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
    Format: MusicXML 4.0, W3C Music Notation Community Group.
    """
    root = parse_xml(unpacked(content, file_name=file_name), file_name=file_name)
    if root.tag != "score-partwise":
        raise DataFileError(
            say("{file_name} is not a partwise MusicXML score.", file_name=file_name), WHAT_TO_DO
        )
    names = {
        part.get("id", ""): " ".join((part.findtext("part-name") or "").split())
        for part in root.iter("score-part")
    }
    readings = [
        _read_part(
            part,
            names.get(part.get("id", ""), "") or say("part {number}", number=number),
            file_name,
        )
        for number, part in enumerate(root.findall("part"), start=1)
    ]
    return _music(file_name, root, readings)


def _music(file_name: str, root: Element, readings: list[_Reading]) -> ImportedMusic:
    parts = tuple(part for reading in readings for part in _parts(reading))
    if not parts:
        raise DataFileError(
            say("{file_name} holds no note to practise.", file_name=file_name), WHAT_TO_DO
        )
    return ImportedMusic(
        file_name=file_name,
        title=root.findtext("work/work-title") or root.findtext("movement-title") or "",
        tempo=next((r.tempo for r in readings if r.tempo), None),
        beats_in_bar=next((r.beats_in_bar for r in readings if r.beats_in_bar), 4),
        parts=parts,
        chords=next((tuple(r.chords) for r in readings if r.chords), ()),
    )


def _parts(reading: _Reading) -> Iterator[ImportedPart]:
    voices = {voice: notes for voice, notes in reading.voices.items() if notes}
    several = len(voices) > 1
    for voice, notes in sorted(voices.items()):
        name = (
            say("{part_name} voice {voice}", part_name=reading.part_name, voice=voice)
            if several
            else reading.part_name
        )
        yield ImportedPart(name, tuple(sorted(notes, key=lambda note: (note.start, note.midi))))


def _read_part(part: Element, name: str, file_name: str) -> _Reading:
    reading = _Reading(file_name, name)
    for number, measure in enumerate(part.findall("measure"), start=1):
        reading.measure = str(number)
        reading.at = reading.farthest
        for element in measure:
            _read_element(reading, element)
    return reading


def _read_element(reading: _Reading, element: Element) -> None:
    if element.tag == "note":
        _read_note(reading, element)
    elif element.tag == "backup":
        _move(reading, -_quarters(reading, element))
    elif element.tag == "forward":
        _move(reading, _quarters(reading, element))
    elif element.tag == "attributes":
        _read_attributes(reading, element)
    elif element.tag == "harmony":
        offset = reading.number(element, "offset", 0.0) / reading.divisions
        reading.chords.append(TimedChord(on_grid(reading.at + offset), chord_of_harmony(element)))
    elif element.tag in ("sound", "direction"):
        _read_tempo(reading, element)


def _read_attributes(reading: _Reading, element: Element) -> None:
    divisions = reading.number(element, "divisions", float(reading.divisions))
    if divisions <= 0:
        raise reading.wrong(say("<divisions> must be above zero."))
    reading.divisions = divisions
    if element.find("transpose") is not None:
        chromatic = reading.number(element, "transpose/chromatic", 0.0)
        octaves = reading.number(element, "transpose/octave-change", 0.0)
        reading.transpose = round(chromatic + 12 * octaves)
    if element.find("time/beats") is not None and reading.beats_in_bar is None:
        beats = reading.number(element, "time/beats")
        beat_type = max(reading.number(element, "time/beat-type", 4.0), Fraction(1))
        reading.beats_in_bar = min(max(round(beats * 4 / beat_type), 1), 16)


def _read_tempo(reading: _Reading, element: Element) -> None:
    sound = element if element.tag == "sound" else element.find("sound")
    if sound is None or sound.get("tempo") is None or reading.tempo is not None:
        return
    try:
        tempo = float(sound.get("tempo", ""))
    except ValueError:
        return
    reading.tempo = tempo if 0 < tempo < 1000 else None


def _read_note(reading: _Reading, element: Element) -> None:
    if element.find("grace") is not None or element.find("cue") is not None:
        return
    beats = _quarters(reading, element)
    is_chord = element.find("chord") is not None
    start = reading.last_start if is_chord else reading.at
    if not is_chord:
        reading.last_start = reading.at
        _move(reading, beats)
    pitch = element.find("pitch")
    if pitch is not None and beats > 0:
        midi, ends_phrase = _midi(reading, pitch), _ends_phrase(element)
        _add_note(reading, element, TimedNote(start, beats, midi, ends_phrase))


def _add_note(reading: _Reading, element: Element, note: TimedNote) -> None:
    """Add a note to its voice, or lengthen the one that it is tied to."""
    voice = element.findtext("voice") or "1"
    notes = reading.voices.setdefault(voice[:20], [])
    ties = {tie.get("type") for tie in element.findall("tie")}
    place = reading.tied.pop((voice, note.midi), None)
    if "stop" in ties and place is not None and notes[place].end == on_grid(note.start):
        start = notes[place].start
        beats = min(on_grid(note.end) - start, LONGEST_IMPORTED_NOTE)
        notes[place] = replace(note, start=start, beats=beats)
    else:
        place = len(notes)
        start = on_grid(note.start)
        beats = min(on_grid(note.end) - start, LONGEST_IMPORTED_NOTE)
        if beats <= 0:
            return
        notes.append(replace(note, start=start, beats=beats))
    if "start" in ties:
        reading.tied[voice, note.midi] = place
    if sum(map(len, reading.voices.values())) > MOST_IMPORTED_NOTES:
        raise reading.wrong(say("there are more notes than in any piece to practise."))


def _ends_phrase(element: Element) -> bool:
    marks = ("notations/fermata", "notations/articulations/breath-mark")
    return any(element.find(mark) is not None for mark in marks)


def _midi(reading: _Reading, pitch: Element) -> int:
    step = (pitch.findtext("step") or "").strip()
    if step not in _STEPS:
        raise reading.wrong(say("<step> {step!r} is not a letter from A to G.", step=step))
    alter = reading.number(pitch, "alter", 0.0)
    octave = reading.number(pitch, "octave")
    midi = round(_STEPS[step] + alter + 12 * (octave + 1)) + reading.transpose
    if not 0 <= midi <= 127:
        raise reading.wrong(say("a note lies beyond everything that can be heard."))
    return midi


def _quarters(reading: _Reading, element: Element) -> Fraction:
    beats = reading.number(element, "duration") / reading.divisions
    if beats < 0:
        raise reading.wrong(say("<duration> is below zero."))
    return beats


def _move(reading: _Reading, beats: Fraction) -> None:
    reading.at = max(reading.at + beats, Fraction(0))
    reading.farthest = max(reading.farthest, reading.at)
    if reading.at > MOST_IMPORTED_BEATS:
        raise reading.wrong(say("the music goes on for longer than any piece to practise."))
