"""A measurement as JSON, table and CSV says the same, and JSON is what its format promises."""

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intonation.heldnotes.exchange import held_notes_csv, read_held_notes
from intonation.pitch.temperaments import temperament_named
from intonation.pitch.tuning import tempered
from intonation.report.measurement import (
    Measurement,
    PitchTrack,
    ReferenceFound,
    held_note_rows,
    json_pieces,
    measurement_lines,
)
from intonation.tracking.events import PitchFrame
from tests.support.held_notes import scored_note

EQUAL_440 = tempered(temperament_named("equal"), a4_hz=440.0)
TAKE = Measurement(
    file="take.wav",
    sample_rate_hz=48_000.0,
    duration_s=61.2,
    tuning=EQUAL_440,
    notes=(scored_note(81, 8.4), scored_note(77, -3.0, vibrato_hz=5.1, vibrato_cents=12.0)),
)
NOTE_KEYS = [
    "onset_s",
    "offset_s",
    "midi",
    "name",
    "f0_hz",
    "target_hz",
    "cents",
    "standard_error_cents",
    "sd_cents",
    "drift_cents_per_s",
    "level_db",
    "cents_per_db",
    "vibrato_hz",
    "vibrato_cents",
]


def parsed(measurement: Measurement) -> dict[str, object]:
    table: dict[str, object] = json.loads("".join(json_pieces(measurement)))
    return table


def test_json_has_every_key_of_its_format_in_order() -> None:
    table = parsed(TAKE)
    assert list(table) == [
        "version",
        "file",
        "sample_rate_hz",
        "duration_s",
        "a4_hz",
        "temperament",
        "reference",
        "notes",
    ]
    assert [list(note) for note in table["notes"]] == [NOTE_KEYS] * 2  # type: ignore[attr-defined]


def test_json_gives_the_frequency_of_a5_a_few_cents_sharp() -> None:
    # A5 is 880 Hz by ISO 16:1975 (A4 = 440 Hz) and the octave 2:1
    note = parsed(TAKE)["notes"][0]  # type: ignore[index]
    assert (note["midi"], note["name"], note["target_hz"]) == (81, "A5", 880.0)
    assert note["f0_hz"] == pytest.approx(880.0 * 2 ** (8.4 / 1200), abs=1e-4)
    assert note["cents"] == pytest.approx(8.4, abs=1e-3)
    assert note["vibrato_hz"] is None


def test_json_says_null_where_nothing_is_known_and_never_nan() -> None:
    unsure = replace(TAKE.notes[0].held, standard_error_cents=float("nan"))
    take = replace(
        TAKE,
        notes=(replace(TAKE.notes[0], held=unsure),),
        reference=ReferenceFound("ref.wav", None, None),
    )
    table = parsed(take)
    assert table["notes"][0]["standard_error_cents"] is None  # type: ignore[index]
    assert table["reference"] == {"file": "ref.wav", "clock_ppm": None, "suppression_db": None}


@given(
    frames=st.lists(
        st.builds(
            PitchFrame,
            time_s=st.floats(0, 1e4),
            f0_hz=st.none() | st.floats(80, 5e3),
            harmonic_to_noise_db=st.floats(-100, 100),
            level_db=st.floats(-150, 0),
        )
    )
)
def test_a_pitch_track_keeps_its_frames(frames: list[PitchFrame]) -> None:
    track = PitchTrack()
    for frame in frames:
        track.add(frame)
    assert list(track) == frames
    table = parsed(replace(TAKE, track=track))
    assert len(table["track"]) == len(frames)  # type: ignore[arg-type]
    assert [row[1] is None for row in table["track"]] == [  # type: ignore[attr-defined]
        frame.f0_hz is None for frame in frames
    ]


def test_a_recording_without_notes_is_valid_json_and_one_sentence() -> None:
    silent = replace(TAKE, notes=())
    assert parsed(silent)["notes"] == []
    assert any("No held note" in line for line in measurement_lines(silent))


def test_the_table_says_sharp_and_flat_and_fits_the_terminal() -> None:
    lines = list(measurement_lines(TAKE))
    assert any("A5" in line and "+8.4 sharp" in line for line in lines)
    assert any("F5" in line and "−3.0 flat" in line for line in lines)
    assert max(map(len, lines)) <= 80


def test_notes_that_are_none_of_the_instrument_are_counted() -> None:
    assert list(measurement_lines(replace(TAKE, left_out=2)))[-1].endswith("instrument: 2.")


def test_the_csv_is_a_held_note_table_that_can_be_read_back() -> None:
    rows = list(held_note_rows(TAKE, player="wren", instrument="alto", session="evening"))
    assert read_held_notes(held_notes_csv(rows), file_name="take.csv") == rows
    assert [row.cents for row in rows] == pytest.approx([8.4, -3.0])
    assert {(row.kind, row.reference) for row in rows} == {("natural", False)}
    heard = replace(TAKE, reference=ReferenceFound("ref.wav", 0.0, 40.0))
    matched = held_note_rows(heard, player="wren", instrument="alto", session="evening")
    assert {(row.kind, row.reference) for row in matched} == {("matched", True)}
