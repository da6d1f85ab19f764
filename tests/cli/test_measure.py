"""`intonation measure` scores recordings, and says in a sentence why it cannot."""

import csv
import io
import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from intonation.cli.main import main
from intonation.engine.take import drone_tones
from intonation.heldnotes.exchange import read_held_notes
from intonation.instruments.library import instrument_named
from intonation.practice.settings import PracticeSettings
from intonation.simulation.plan import long_tones
from intonation.simulation.players import simulated_player
from intonation.synth.wavetable import Synth

RATE_HZ = 48_000


def a_tone(f0_hz: float, *, seconds: float = 1.5) -> np.ndarray:
    """Return a note of three partials that begins and ends softly, with silence around it."""
    time_s = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    tone = sum(0.2 / n**2 * np.sin(2 * np.pi * n * f0_hz * time_s) for n in (1, 2, 3))
    fade = np.minimum(1.0, np.minimum(time_s, time_s[::-1]) / 0.05)
    rest = np.zeros(RATE_HZ // 2)
    return np.concatenate([rest, tone * fade, rest])


@pytest.fixture(scope="module")
def take(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A recording of A4 5 cents sharp and E5, a just fifth above A4 = 440 Hz (3:2, 660 Hz)."""
    path = tmp_path_factory.mktemp("recording") / "take.wav"
    noise = np.random.default_rng(5).normal(0.0, 1e-4, 5 * RATE_HZ)
    notes = np.concatenate([a_tone(440.0 * 2 ** (5 / 1200)), a_tone(660.0)])
    soundfile.write(path, notes + noise[: notes.size], RATE_HZ)
    return path


def printed(capsys: pytest.CaptureFixture[str], *arguments: object) -> str:
    assert main([str(argument) for argument in arguments]) == 0
    return capsys.readouterr().out


def test_the_json_has_the_notes_that_were_played(
    take: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = json.loads(printed(capsys, "measure", take, "--json"))
    assert [note["name"] for note in table["notes"]] == ["A4", "E5"]
    # 3:2 is 701.955 cents, 1.955 above the equal fifth (A. J. Ellis, 1885; from memory)
    assert [note["cents"] for note in table["notes"]] == pytest.approx([5.0, 1.955], abs=0.1)
    assert table["notes"][0]["onset_s"] == pytest.approx(0.5, abs=0.1)
    assert table["duration_s"] == pytest.approx(5.0)


def test_pure_intervals_over_a_tonic_find_the_fifth_in_tune(
    take: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    options = ("--temperament", "pure", "--tonic", "A")
    table = json.loads(printed(capsys, "measure", take, "--json", *options))
    assert table["temperament"] == "pure"
    assert table["notes"][1]["cents"] == pytest.approx(0.0, abs=0.1)


def test_another_concert_pitch_moves_every_note(
    take: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = json.loads(printed(capsys, "measure", take, "--json", "--a4", "442"))
    moved = 1200 * np.log2(440 / 442)
    assert table["a4_hz"] == 442.0
    assert table["notes"][0]["cents"] == pytest.approx(5.0 + moved, abs=0.1)


def test_notes_outside_the_instrument_are_left_out(
    take: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "A4" in printed(capsys, "measure", take, "--instrument", "alto")
    said = printed(capsys, "measure", take, "--instrument", "garklein")
    assert "instrument: 2." in said


def test_the_csv_is_a_held_note_table(take: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = printed(capsys, "measure", take, "--csv", "--player", "wren", "--session", "evening")
    rows = read_held_notes(text, file_name="take.csv")
    assert [(row.player, row.session, row.midi) for row in rows] == [
        ("wren", "evening", 69),
        ("wren", "evening", 76),
    ]
    assert next(csv.reader(io.StringIO(text)))[0] == "event"


def test_the_track_has_a_frame_every_ten_milliseconds_or_finer(
    take: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = json.loads(printed(capsys, "measure", take, "--track"))
    times_s = [frame[0] for frame in table["track"]]
    assert np.max(np.diff(times_s)) <= 0.0101
    assert times_s[-1] > 4.5
    sounding = [frame[1] for frame in table["track"] if 1.0 < frame[0] < 1.5]
    assert sounding == pytest.approx([440.0 * 2 ** (5 / 1200)] * len(sounding), rel=1e-3)


def test_a_reference_in_the_room_is_taken_out_before_the_player_is_scored(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    settings = PracticeSettings(drone_midi=65, drone_fifth=True)
    synth = Synth(RATE_HZ)
    synth.set_tones(drone_tones(settings))
    player = simulated_player(
        "wren", instrument_named("alto"), long_tones((69, 72, 77), sounding_s=1.5), seed=11
    )
    sound = player.read(30 * RATE_HZ)
    reference = synth.render(sound.size)
    soundfile.write(tmp_path / "ref.wav", reference, RATE_HZ, subtype="FLOAT")
    soundfile.write(tmp_path / "room.wav", sound + 0.3 * reference, RATE_HZ, subtype="FLOAT")

    options = ("--reference", tmp_path / "ref.wav", "--json")
    table = json.loads(printed(capsys, "measure", tmp_path / "room.wav", *options))
    assert [note["f0_hz"] for note in table["notes"]] == pytest.approx(
        [note.f0_hz for note in player.played], rel=0.5 / 1731.0
    )
    assert table["reference"]["suppression_db"] > 20.0
    assert abs(table["reference"]["clock_ppm"]) < 1.0


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--temperament", "valotti"], "vallotti"),
        (["--temperament", "pure"], "--tonic"),
        (["--temperament", "vallotti", "--tonic", "F"], "no tonic"),
        (["--a4", "900"], "900"),
        (["--instrument", "trumpet"], "trumpet"),
        (["--tonic", "H", "--temperament", "pure"], "H"),
    ],
)
def test_a_wrong_option_is_one_sentence(
    take: Path, capsys: pytest.CaptureFixture[str], options: list[str], says: str
) -> None:
    assert main(["measure", str(take), *options]) == 2
    said = capsys.readouterr()
    assert says in said.err
    assert said.out == ""


def test_a_silent_recording_and_a_text_are_one_sentence_each(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    soundfile.write(tmp_path / "silent.wav", np.zeros(RATE_HZ), RATE_HZ)
    (tmp_path / "text.wav").write_text("la la la")
    for name in ("silent.wav", "text.wav", "missing.wav"):
        assert main(["measure", str(tmp_path / name)]) == 2
        said = capsys.readouterr().err
        assert name in said
        assert len(said.splitlines()) == 1


def test_a_temperament_of_ones_own_fixes_the_targets(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.toml"
    own.write_text('name = "hall"\n[fifths]\nC-G = "1/4"\nG-D = "1/4"\nD-A = "1/4"\n')
    take = tmp_path / "take.wav"
    c5_hz = 523.2511306  # of equal temperament, MIDI Tuning
    soundfile.write(take, a_tone(c5_hz), RATE_HZ)
    assert main(["measure", str(take), "--temperament", str(own), "--json"]) == 0
    (note,) = json.loads(capsys.readouterr().out)["notes"]
    # three fifths C-G-D-A, each narrow by a quarter of the Pythagorean comma (23.460 cents), put
    # the target C 11.730 cents above the equal-tempered one, as in Werckmeister III
    assert note["cents"] == pytest.approx(-11.73, abs=0.05)


def test_advice_for_every_note_is_printed_where_the_recorder_is_known(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    played = (
        ("D5", 587.33, 12.0),
        ("C5", 523.25, -8.0),
        ("F6", 1396.91, -20.0),
        ("F4", 349.23, 3.0),
    )
    notes = [a_tone(hz * 2 ** (cents / 1200)) for _, hz, cents in played]
    path = tmp_path / "take.wav"
    soundfile.write(path, np.concatenate(notes), RATE_HZ)
    told = " ".join(printed(capsys, "measure", path, "--instrument", "alto", "--advice").split())
    assert "D5, 12.0 cents sharp" in told
    assert "Cover half of hole 4 (right first finger): about 12 cents lower." in told
    assert "within the 20-cent window that breath covers" in told
    assert "Thumb slit a little wider" in told
    assert "Excellent: nothing to change." in told


def test_advice_without_a_recorder_asks_which_one_was_played(
    take: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["measure", str(take), "--advice"]) == 2
    assert "--instrument alto" in capsys.readouterr().err
