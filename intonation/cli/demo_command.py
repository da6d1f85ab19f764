"""``intonation demo``: a simulated player practises; needs no sound library, device or terminal."""

import argparse
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

from intonation.language import say
from intonation.simulation.players import PLAYERS

if TYPE_CHECKING:
    from intonation.practice.settings import PracticeSettings

SEED = 7


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "demo",
        help=say("let a simulated player practise, and read the advice"),
        description=say(
            "Let a simulated player practise against a drone, and print what a player would be "
            "told. The player is invented; the drone, the listening, the scores, the advice and "
            "the record are the real ones. Nothing is played aloud."
        ),
    )
    parser.add_argument(
        "--watch", action="store_true", help=say("show it in the interface instead")
    )
    parser.add_argument(
        "--plain", action="store_true", help=say("with --watch: in lines, for screen readers")
    )
    parser.add_argument(
        "--check",
        choices=("short", "standard"),
        help=say(
            "go through the whole instrument check instead, and compare its verdict with the "
            "truth (takes up to a minute)"
        ),
    )
    parser.add_argument(
        "--workshop",
        action="store_true",
        help=say(
            "check a simulated alto with two faults, find them, try a remedy and prove it (takes "
            "a minute or two); with --watch: learn the workshop on it"
        ),
    )
    parser.add_argument(
        "--player", default="wren", choices=sorted(PLAYERS), help=say("who plays (default wren)")
    )
    parser.add_argument(
        "--instrument", default="alto", metavar="NAME", help=say("what on (default alto)")
    )
    parser.add_argument(
        "--temperament",
        metavar="NAME",
        help=say("a temperament, or the TOML file of your own (default pure)"),
    )
    parser.add_argument(
        "--seed",
        type=int,
        default=SEED,
        metavar="N",
        help=say("another chance (default {seed})", seed=SEED),
    )


def run(arguments: argparse.Namespace) -> int:
    """Print the demonstration, or show it."""
    if arguments.watch:
        return _watched(arguments)
    if arguments.workshop:
        return _mended(arguments)
    if arguments.check is not None:
        return _checked(arguments)
    from intonation.cli.demonstration import demonstrated
    from intonation.report.demonstration import demonstration_lines

    settings = _settings(arguments)
    demonstration = demonstrated(settings, name=arguments.player, seed=arguments.seed)
    sys.stdout.writelines(f"{line}\n" for line in demonstration_lines(demonstration))
    return 0


def _settings(arguments: argparse.Namespace) -> "PracticeSettings":
    from intonation.cli.named_instruments import instrument_asked_for
    from intonation.cli.own_files import temperament_asked_for
    from intonation.practice.in_hand import taken_in_hand
    from intonation.practice.settings import OWN, PURE, PracticeSettings

    settings = taken_in_hand(
        PracticeSettings(player=arguments.player), instrument_asked_for(arguments.instrument)
    )
    if arguments.temperament in (None, PURE):
        return settings
    chosen = temperament_asked_for(arguments.temperament)
    return replace(settings, temperament=OWN, own_temperament=chosen)


def _checked(arguments: argparse.Namespace) -> int:
    from intonation.cli.check_demonstration import demonstrated_check
    from intonation.cli.named_instruments import recorder_asked_for
    from intonation.report.check_demonstration import check_demonstration_lines

    instrument = recorder_asked_for(arguments.instrument)
    shown = demonstrated_check(instrument, form=arguments.check, seed=arguments.seed)
    sys.stdout.writelines(f"{line}\n" for line in check_demonstration_lines(shown))
    return 0


def _mended(arguments: argparse.Namespace) -> int:
    from intonation.cli.workshop_demonstration import demonstrated_workshop
    from intonation.report.workshop_demonstration import workshop_demonstration_lines

    shown = demonstrated_workshop(seed=arguments.seed)
    sys.stdout.writelines(f"{line}\n" for line in workshop_demonstration_lines(shown))
    return 0


def _watched(arguments: argparse.Namespace) -> int:
    from intonation.app.main import run_app
    from intonation.app.stand_in import on_the_alto_with_two_faults
    from intonation.engine.messages import SoundSettings
    from intonation.store.store import Store

    # a simulated player's notes do not belong into the record of a real one
    sound = SoundSettings(simulated=True, seed=arguments.seed, two_faults=arguments.workshop)
    settings = _settings(arguments)
    if arguments.workshop:
        settings = on_the_alto_with_two_faults(settings)
    return run_app(
        sound=sound,
        store=Store(None),
        practice=settings,
        remember=False,
        plain=arguments.plain,
    )
