"""``intonation``, or ``intonation practise``: the interface on the music stand."""

import argparse
from pathlib import Path

from intonation.app.main import run_app
from intonation.engine.messages import SoundSettings
from intonation.instruments.own_instrument import OwnInstrument
from intonation.language import say


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "practise",
        help=say("open the interface, as the program does without a command"),
        description=say(
            "Open the interface: it sounds a reference, listens, and says after each held note "
            "how far it was from its target and what to do. What you chose last time is "
            "remembered, and every note is kept on disk before the next one starts."
        ),
    )
    parser.add_argument(
        "--recording",
        metavar="FILE",
        type=Path,
        help=say("listen to a recording, not to a microphone"),
    )
    parser.add_argument(
        "--instrument",
        metavar="NAME",
        help=say("take this one of your instruments in hand, or a size (default: the last one)"),
    )
    parser.add_argument(
        "--plain",
        action="store_true",
        help=say("print lines and take typed lines instead of drawing, for screen readers"),
    )


def run(arguments: argparse.Namespace) -> int:
    """Open the interface."""
    sound = None if arguments.recording is None else SoundSettings(recording=arguments.recording)
    asked = arguments.instrument
    in_hand = None if asked is None else _instrument(asked)
    return run_app(sound=sound, plain=arguments.plain, in_hand=in_hand)


def _instrument(name: str) -> OwnInstrument:
    from intonation.cli.named_instruments import instrument_asked_for

    return instrument_asked_for(name)
