"""MusicXML becomes voices of timed notes and chord symbols, or one sentence."""

from fractions import Fraction

import pytest

from intonation.errors import DataFileError
from intonation.interchange.music_files import parse_music
from intonation.pitch.chords import Chord
from tests.support.music_samples import (
    ATTRIBUTES,
    compressed,
    lead_sheet,
    xml_measure,
    xml_note,
    xml_score,
)

# The first example of the MusicXML 4.0 tutorial (W3C Music Notation Community Group): middle C for
# a whole bar of 4/4. Its facts, in our own document.
HELLO_WORLD = xml_score(
    xml_measure(
        "<attributes><divisions>1</divisions><key><fifths>0</fifths></key>"
        "<time><beats>4</beats><beat-type>4</beat-type></time></attributes>",
        xml_note("C4", 4, extra="<type>whole</type>"),
    )
)


def test_the_first_example_of_the_standard_is_middle_c_for_four_beats() -> None:
    music = parse_music(HELLO_WORLD, file_name="hello.musicxml")
    (note,) = music.parts[0].notes
    assert (note.midi, note.start, note.beats, music.beats_in_bar) == (60, 0, 4, 4)


@pytest.mark.parametrize("content", [lead_sheet(), compressed(lead_sheet())], ids=["xml", "mxl"])
def test_a_lead_sheet_keeps_title_tempo_ties_breaths_and_chords(content: bytes) -> None:
    music = parse_music(content, file_name="sheet.musicxml")
    notes = music.parts[0].notes
    assert (music.title, music.tempo) == ("A tune", 72.0)
    assert [(n.midi, n.start, n.beats) for n in notes] == [
        (81, 0, 1), (81, 1, 1), (79, 2, 3), (77, 6, 2),
    ]  # fmt: skip
    assert [n.ends_phrase for n in notes] == [False, True, False, False]
    assert [(c.start, c.chord) for c in music.chords] == [
        (0, Chord(5)), (2, Chord(0, "7")), (6, Chord(5)),
    ]  # fmt: skip


def test_voices_written_over_one_another_begin_together() -> None:
    measure = xml_measure(
        ATTRIBUTES,
        xml_note("C5", 4),
        xml_note("E5", 4, extra="").replace("<note>", "<note><chord/>"),
        "<backup><duration>4</duration></backup>",
        xml_note("C4", 8, voice="2"),
    )
    upper, lower = parse_music(xml_score(measure), file_name="two.musicxml").parts
    assert [(n.midi, n.start) for n in upper.notes] == [(72, 0), (76, 0)]
    assert [(n.midi, n.start, n.beats) for n in lower.notes] == [(60, 0, 4)]


def test_an_instrument_that_sounds_an_octave_higher_is_read_as_it_sounds() -> None:
    transpose = "<attributes><transpose><octave-change>1</octave-change></transpose></attributes>"
    content = xml_score(xml_measure(ATTRIBUTES, transpose, xml_note("F4", 2)))
    assert parse_music(content, file_name="soprano.musicxml").parts[0].notes[0].midi == 77


@pytest.mark.parametrize(("beats", "beat_type", "quarters"), [(3, 4, 3), (6, 8, 3), (2, 2, 4)])
def test_a_bar_is_counted_in_quarter_notes(beats: int, beat_type: int, quarters: int) -> None:
    time = f"<time><beats>{beats}</beats><beat-type>{beat_type}</beat-type></time>"
    attributes = f"<attributes><divisions>1</divisions>{time}</attributes>"
    content = xml_score(xml_measure(attributes, xml_note("A5", 3)))
    assert parse_music(content, file_name="bar.musicxml").beats_in_bar == quarters


def test_parts_are_named_as_the_score_names_them_and_voices_are_numbered() -> None:
    one = xml_measure(ATTRIBUTES, xml_note("A5", 8))
    two = xml_measure(
        ATTRIBUTES,
        xml_note("C4", 8),
        "<backup><duration>8</duration></backup>",
        xml_note("F3", 8, voice="2"),
    )
    names = [part.name for part in parse_music(xml_score(one, two), file_name="s.musicxml").parts]
    assert names == ["Part 1", "Part 2 voice 1", "Part 2 voice 2"]


def test_a_bass_under_a_chord_is_kept_and_an_unknown_kind_is_no_chord() -> None:
    harmony = (
        "<harmony><root><root-step>B</root-step><root-alter>-1</root-alter></root><kind>{}</kind>"
        "<bass><bass-step>D</bass-step></bass></harmony>"
    )
    known, unknown = harmony.format("major"), harmony.format("Tristan")
    measure = xml_measure(ATTRIBUTES, known, xml_note("A5", 4), unknown, xml_note("A5", 4))
    chords = parse_music(xml_score(measure), file_name="bass.musicxml").chords
    assert [chord.chord for chord in chords] == [Chord(10, "", 2), None]


def test_sharps_and_flats_are_read() -> None:
    measure = xml_measure(ATTRIBUTES, xml_note("F#5", 2), xml_note("Bb5", 2), xml_note("D5", 2))
    notes = parse_music(xml_score(measure), file_name="signs.musicxml").parts[0].notes
    assert [note.midi for note in notes] == [78, 82, 74]


def test_triplets_and_grace_notes_keep_the_beat() -> None:
    grace = (
        xml_note("B5", 0).replace("<note>", "<note><grace/>").replace("<duration>0</duration>", "")
    )
    triplets = xml_note("A5", 1) * 3
    attributes = ATTRIBUTES.replace("<divisions>2", "<divisions>3")
    content = xml_score(xml_measure(attributes, grace, triplets, xml_note("C6", 3)))
    notes = parse_music(content, file_name="triplets.musicxml").parts[0].notes
    assert [n.start for n in notes] == [0, Fraction(1, 3), Fraction(2, 3), 1]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (b"<divisions>2", b"<divisions>0", "bar 1: <divisions>"),
        (b"<divisions>2", b"<divisions>1e-300", "bar 1: <divisions>"),
        (b"<duration>4", b"<duration>1e999999999", "bar 1: <duration>"),
        (b"<duration>4", b"<duration>-4", "bar 1: <duration>"),
        (b"<duration>4", b"<duration>999999", "goes on for longer"),
        (b"<step>G", b"<step>H", "bar 1: <step>"),
        (b"<octave>5", b"<octave>55", "beyond everything"),
        (b"score-partwise", b"score-timewise", "not a partwise"),
        (b"</part>", b"", "line 1: this is not sound XML"),
        (b"<pitch>", b"<pitches>", "not sound XML"),
    ],
)
def test_a_mistake_is_named_with_its_bar(old: bytes, new: bytes, said: str) -> None:
    content = lead_sheet()
    assert old in content
    with pytest.raises(DataFileError) as mistake:
        parse_music(content.replace(old, new), file_name="sheet.musicxml")
    assert mistake.value.sentence.startswith("sheet.musicxml")
    assert said in mistake.value.sentence


def test_entities_that_grow_without_end_are_refused() -> None:
    bomb = (
        b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
        b"<score-partwise>&b;</score-partwise>"
    )
    with pytest.raises(DataFileError, match="not sound XML"):
        parse_music(bomb, file_name="bomb.musicxml")


def test_an_archive_that_unpacks_without_end_is_refused() -> None:
    with pytest.raises(DataFileError, match="far too large"):
        parse_music(compressed(bytes(50_000_000)), file_name="bomb.mxl")


def test_a_score_of_rests_holds_nothing_to_practise() -> None:
    rest = "<note><rest/><duration>8</duration></note>"
    with pytest.raises(DataFileError, match="no note"):
        parse_music(xml_score(xml_measure(ATTRIBUTES, rest)), file_name="rests.musicxml")


def test_a_part_whose_notes_are_too_short_to_play_is_no_part() -> None:
    too_short = "<attributes><divisions>1000</divisions></attributes>"
    silent = xml_measure(too_short, xml_note("C5", 1))
    with pytest.raises(DataFileError, match=r"tune\.musicxml holds no note"):
        parse_music(xml_score(silent), file_name="tune.musicxml")
    both = xml_score(silent, xml_measure(ATTRIBUTES, xml_note("D5", 2)))
    (part,) = parse_music(both, file_name="tune.musicxml").parts
    assert [note.midi for note in part.notes] == [74]
