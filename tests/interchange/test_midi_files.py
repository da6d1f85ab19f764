"""Standard MIDI Files become parts of timed notes, or one sentence."""

import io
from fractions import Fraction

import mido
import pytest

from intonation.errors import DataFileError
from intonation.exercise.imported_music import TimedNote
from intonation.interchange.music_files import parse_music
from tests.support.music_samples import STANDARD_MIDI_EXAMPLE


def midi_bytes(*tracks: list[mido.Message], ticks_per_beat: int = 480, kind: int = 1) -> bytes:
    midi_file = mido.MidiFile(type=kind, ticks_per_beat=ticks_per_beat)
    midi_file.tracks.extend(mido.MidiTrack(track) for track in tracks)
    written = io.BytesIO()
    midi_file.save(file=written)
    return written.getvalue()


def note(midi: int, ticks: int, *, wait: int = 0, channel: int = 0) -> list[mido.Message]:
    return [
        mido.Message("note_on", note=midi, velocity=64, time=wait, channel=channel),
        mido.Message("note_off", note=midi, velocity=0, time=ticks, channel=channel),
    ]


def test_the_example_of_the_standard_is_read_as_the_standard_explains_it() -> None:
    music = parse_music(STANDARD_MIDI_EXAMPLE, file_name="example.mid")
    assert music.tempo == pytest.approx(120.0)
    assert music.beats_in_bar == 4
    by_channel = {part.name: part.notes for part in music.parts}
    assert by_channel == {
        "track 1 channel 1": (TimedNote(Fraction(2), Fraction(2), 76),),
        "track 1 channel 2": (TimedNote(Fraction(1), Fraction(3), 67),),
        "track 1 channel 3": (
            TimedNote(Fraction(0), Fraction(4), 48),
            TimedNote(Fraction(0), Fraction(4), 60),
        ),
    }


def test_the_first_tempo_and_metre_count() -> None:
    heading = [
        mido.MetaMessage("time_signature", numerator=6, denominator=8),
        mido.MetaMessage("set_tempo", tempo=1_000_000),
        mido.MetaMessage("time_signature", numerator=4, denominator=4, time=960),
        mido.MetaMessage("set_tempo", tempo=500_000),
    ]
    music = parse_music(midi_bytes(heading, note(76, 480)), file_name="heading.mid")
    assert (music.tempo, music.beats_in_bar) == (60.0, 3)


def test_a_title_is_the_name_of_the_only_track_or_of_one_without_notes() -> None:
    """Standard MIDI Files 1.0: the name of the first track of a format 1 file is the sequence's."""

    def named(name: str, *notes: mido.Message) -> list[mido.Message]:
        return [mido.MetaMessage("track_name", name=name), *notes]

    tune = named("Flute", *note(76, 480))
    for tracks, title in (([tune], "Flute"), ([named("Evening"), tune], "Evening")):
        assert parse_music(midi_bytes(*tracks), file_name="a.mid").title == title
    assert (
        parse_music(midi_bytes(tune, named("Bass", *note(48, 480))), file_name="a.mid").title == ""
    )


def test_percussion_is_no_part() -> None:
    content = midi_bytes(note(76, 480), note(40, 480, channel=9))
    assert len(parse_music(content, file_name="drums.mid").parts) == 1


def test_slightly_uneven_playing_is_put_on_the_beat() -> None:
    content = midi_bytes([*note(76, 473), *note(77, 481, wait=9)])
    notes = parse_music(content, file_name="played.mid").parts[0].notes
    assert [each.start for each in notes] == [0, 1]


REFUSED = {
    "only its name": (b"MThd", "not a sound MIDI file"),
    "cut short": (STANDARD_MIDI_EXAMPLE[:30], "not a sound MIDI file"),
    "film frames": (STANDARD_MIDI_EXAMPLE.replace(b"\x00\x60MTrk", b"\xe7\x28MTrk"), "film frames"),
    "no ticks": (STANDARD_MIDI_EXAMPLE.replace(b"\x00\x60MTrk", b"\x00\x00MTrk"), "film frames"),
    "format 2": (midi_bytes([], kind=2), "format 2"),
    "no note": (midi_bytes([]), "no note"),
    "endless": (midi_bytes(note(76, 480, wait=480 * 20_000)), "20001 beats"),
    "huge": (b"MThd" + bytes(3_000_000), "too large"),
    "text": (b"hello", "neither"),
    "empty": (b"", "neither"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_file_that_cannot_be_practised_is_refused_in_a_sentence(case: str) -> None:
    content, said = REFUSED[case]
    with pytest.raises(DataFileError) as mistake:
        parse_music(content, file_name="tune.mid")
    assert mistake.value.sentence.startswith("tune.mid")
    assert said in mistake.value.sentence
    assert mistake.value.what_to_do
