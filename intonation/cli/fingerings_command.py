"""``intonation fingerings``: the fingering chart of an instrument, or of one of its notes."""

import argparse

from intonation.cli.named_instruments import recorder_asked_for
from intonation.errors import SettingsError
from intonation.instruments.instrument import Instrument
from intonation.instruments.library import INSTRUMENT_NAMES
from intonation.instruments.other_systems import SYSTEMS, in_system
from intonation.language import say
from intonation.pitch.notes import midi_of_note, note_name
from intonation.report.fingering_chart import chart_lines, source_lines


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command and its options."""
    parser = subparsers.add_parser(
        "fingerings",
        help=say("print a fingering chart"),
        description=say(
            "Print the usual and other fingerings of every note, with how many cents another "
            "fingering is expected to differ."
        ),
    )
    parser.add_argument("notes", nargs="*", metavar="NOTE", help=say("sounding notes, such as F#5"))
    parser.add_argument(
        "--instrument",
        default="alto",
        metavar="NAME",
        help=say(
            "one of your own, or {sizes} (default: alto)",
            sizes=", ".join(INSTRUMENT_NAMES),
        ),
    )
    parser.add_argument(
        "--system",
        choices=SYSTEMS,
        help=say("fingering system (default: the instrument's, or {system})", system=SYSTEMS[0]),
    )
    parser.add_argument(
        "--sources", action="store_true", help=say("say where each chart is published")
    )


def run(arguments: argparse.Namespace) -> int:
    """Print the chart."""
    instrument = recorder_asked_for(arguments.instrument)
    if arguments.system is not None:
        instrument = in_system(instrument, arguments.system)
    wanted = [midi_of_note(name) for name in arguments.notes] or list(instrument.notes_midi)
    for midi in wanted:
        _check(midi, instrument)
    print(f"{instrument.title}, {instrument.chart.title}")
    print(*chart_lines(instrument, wanted), sep="\n")
    if arguments.sources:
        print(*source_lines(instrument), sep="\n")
    return 0


def _check(midi: int, instrument: Instrument) -> None:
    if instrument.chart_note(midi) is None:
        lowest, highest = note_name(instrument.lowest_midi), note_name(instrument.highest_midi)
        raise SettingsError(
            say(
                "{note} is no note of the {instrument}'s chart.",
                note=note_name(midi),
                instrument=instrument.name,
            ),
            say(
                "Ask for sounding notes from {lowest} to {highest}.", lowest=lowest, highest=highest
            ),
        )
