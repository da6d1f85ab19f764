"""``intonation measure TAKE.wav``: the held notes of a recording, scored."""

import argparse
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from intonation.cli.measuring import measured, tuning_asked_for
from intonation.cli.named_instruments import recorder_asked_for
from intonation.errors import SettingsError
from intonation.heldnotes.exchange import csv_lines
from intonation.instruments.instrument import Instrument
from intonation.language import say
from intonation.pitch.concert_pitch import concert_pitch_hz
from intonation.report.advice_report import advice_lines
from intonation.report.measurement import (
    Measurement,
    held_note_rows,
    json_pieces,
    measurement_lines,
)


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "measure",
        help=say("score the held notes of a recording"),
        description=say(
            "Score the held notes of a recording: WAV, FLAC, OGG or any other sound file."
        ),
    )
    parser.add_argument("take", metavar="TAKE.wav", type=Path, help=say("the recording"))
    parser.add_argument(
        "--reference",
        metavar="REF.wav",
        type=Path,
        help=say("recording of the reference that sounded in the room, alone for the first 1.5 s"),
    )
    parser.add_argument(
        "--a4", default="440", metavar="HZ", help=say("concert pitch (default 440)")
    )
    parser.add_argument(
        "--temperament",
        default="equal",
        metavar="NAME",
        help=say("a temperament, the TOML file of your own, or pure with --tonic (default equal)"),
    )
    parser.add_argument("--tonic", metavar="NOTE", help=say("the note that pure or just stands on"))
    parser.add_argument(
        "--instrument", metavar="NAME", help=say("score only notes of this recorder")
    )
    parser.add_argument(
        "--advice",
        action="store_true",
        help=say("say beneath the table what to do about every note (with --instrument)"),
    )
    output = parser.add_mutually_exclusive_group()
    output.add_argument("--json", action="store_true", help=say("print JSON"))
    output.add_argument("--csv", action="store_true", help=say("print the held-note table as CSV"))
    parser.add_argument(
        "--track", action="store_true", help=say("add every pitch frame to the JSON")
    )
    parser.add_argument("--player", default="player", metavar="NAME", help=say("player in the CSV"))
    parser.add_argument(
        "--session", metavar="NAME", help=say("session in the CSV (default: the file)")
    )


def run(arguments: argparse.Namespace) -> int:
    """Measure a recording and print the result."""
    if arguments.advice and arguments.instrument is None:
        raise SettingsError(
            say("Advice depends on the recorder that was played."),
            say("Say which, for example --instrument alto."),
        )
    instrument = recorder_asked_for(arguments.instrument) if arguments.instrument else None
    tuning = tuning_asked_for(
        arguments.temperament, a4_hz=concert_pitch_hz(arguments.a4), tonic=arguments.tonic
    )
    measurement = measured(
        arguments.take,
        tuning=tuning,
        instrument=instrument,
        reference=arguments.reference,
        with_track=arguments.track,
    )
    for piece in _printed(measurement, arguments, instrument):
        sys.stdout.write(piece)
    return 0


def _printed(
    measurement: Measurement, arguments: argparse.Namespace, instrument: Instrument | None
) -> Iterable[str]:
    if arguments.json or arguments.track:
        return json_pieces(measurement)
    if arguments.csv:
        rows = held_note_rows(
            measurement,
            player=arguments.player,
            instrument="recorder" if instrument is None else instrument.name,
            session=arguments.session or arguments.take.stem,
        )
        return csv_lines(rows)
    return (f"{line}\n" for line in _lines(measurement, instrument if arguments.advice else None))


def _lines(measurement: Measurement, advised_on: Instrument | None) -> Iterator[str]:
    yield from measurement_lines(measurement)
    if advised_on is not None:
        yield from advice_lines(measurement.notes, advised_on)
