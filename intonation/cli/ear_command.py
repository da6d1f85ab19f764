"""``intonation ear``: what the ear drills have found, or a drill with a simulated listener."""

import argparse
import sys
from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING

from intonation.cli.records import add_record_option, record_to_read
from intonation.language import say

if TYPE_CHECKING:
    from intonation.listening.block import BlockResult
    from intonation.listening.simulated_listener import SimulatedListener
    from intonation.store.listening_answers import ListeningAnswers

SEED = 7
_MINUTES = 4.0


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "ear",
        help=say("show how fine your ear is, interval by interval and day by day"),
        description=say(
            "Show what the listening drills have found: the smallest deviation that you hear, and "
            "which side sounds in tune to you. The drills themselves are in the interface; with "
            "--simulate an invented listener does one here, without any sound."
        ),
    )
    parser.add_argument("--player", default="player", metavar="NAME", help=say("whose results"))
    parser.add_argument("--drill", metavar="NAME", help=say('only this drill, such as "which way"'))
    add_record_option(parser)
    _add_simulation(parser.add_argument_group(say("a simulated listener")))


def _add_simulation(group: "argparse._ArgumentGroup") -> None:
    group.add_argument(
        "--simulate",
        action="store_true",
        help=say("let one do a drill; answers are kept only in a --record that is named"),
    )
    group.add_argument("--instrument", default="alto", metavar="NAME", help=say("default alto"))
    group.add_argument("--interval", metavar="NAME", help=say("only this interval, chord or tune"))
    group.add_argument("--register", choices=("low", "high"), help=say("only this register"))
    group.add_argument(
        "--threshold",
        type=float,
        default=8.0,
        metavar="CENTS",
        help=say("75 %% threshold (default 8)"),
    )
    group.add_argument("--bias", type=float, default=0.0, metavar="CENTS", help=say("default 0"))
    group.add_argument(
        "--lapses", type=float, default=0.02, metavar="SHARE", help=say("default 0.02")
    )
    group.add_argument(
        "--minutes", type=float, default=_MINUTES, metavar="N", help=say("3 to 6 (default 4)")
    )
    group.add_argument(
        "--staircase", action="store_true", help=say("present the steps of a staircase")
    )
    group.add_argument("--seed", type=int, default=SEED, metavar="N", help=say("another chance"))


def run(arguments: argparse.Namespace) -> int:
    """Print the history, after a simulated listener's block if one is asked for."""
    from intonation.store.listening_answers import ListeningAnswers
    from intonation.store.store import Store

    if arguments.simulate:
        with Store(arguments.record) as store:
            _simulated_block(arguments, ListeningAnswers(store.database))
        return 0

    with record_to_read(arguments.record) as store:
        _print_history(arguments, ListeningAnswers(store.database))
    return 0


def _simulated_block(arguments: argparse.Namespace, kept: "ListeningAnswers") -> None:
    import numpy as np

    from intonation.cli.named_instruments import instrument_asked_for
    from intonation.listening.history import kept as as_kept
    from intonation.practice.ear import ear_setting_of, slow_tunes_of
    from intonation.practice.ear_block import block_for, conditions_for, drill_named, known_of
    from intonation.practice.in_hand import taken_in_hand
    from intonation.practice.settings import PracticeSettings

    settings = taken_in_hand(
        PracticeSettings(player=arguments.player), instrument_asked_for(arguments.instrument)
    )
    name, tunes = arguments.drill or "which way", slow_tunes_of(settings)
    drill = drill_named(ear_setting_of(settings), name, tunes=tunes)
    known = known_of(kept.answers(arguments.player))
    conditions = conditions_for(
        drill,
        known,
        today=_now().date(),
        interval=arguments.interval,
        register=arguments.register,
    )
    rng = np.random.default_rng(arguments.seed)
    listener = _listener(arguments)
    block = block_for(
        drill,
        known,
        conditions,
        rng=rng,
        length_s=60.0 * arguments.minutes,
        method="staircase" if arguments.staircase else "adaptive",
    )
    while block.trial is not None:
        answer = block.answered(listener.answer(block.trial, rng))
        if answer is not None:
            kept.add(arguments.player, as_kept(answer, answered_at=_now()))
    _print_block(block.result())


def _listener(arguments: argparse.Namespace) -> "SimulatedListener":
    from intonation.errors import SettingsError
    from intonation.listening.simulated_listener import SimulatedListener

    if not 0.0 < arguments.threshold <= 1200.0 or not 0.0 <= arguments.lapses <= 1.0:
        raise SettingsError(
            say("There can be no such listener."),
            say("Give a threshold above 0 cents, and lapses from 0 to 1."),
        )
    return SimulatedListener(
        threshold_cents=arguments.threshold,
        bias_cents=arguments.bias,
        lapses=arguments.lapses,
    )


def _print_block(result: "BlockResult") -> None:
    from intonation.words.hearing import HOW_FINE, estimate_in_words

    right = sum(answer.is_right for answer in result.answers)
    print(say("{count} answers, {right} of them right.", count=len(result.answers), right=right))
    for condition, found in result.estimates.items():
        print(_capital(estimate_in_words(condition, found)))
    print(HOW_FINE)


def _print_history(arguments: argparse.Namespace, kept: "ListeningAnswers") -> None:
    from intonation.listening.history import day_results, day_tunings
    from intonation.report.ear_table import ear_lines, tuning_lines

    results = day_results(kept.answers(arguments.player, drill=arguments.drill))
    tunings = day_tunings(kept.tuned(arguments.player, drill=arguments.drill))
    if not results and not tunings:
        print(
            say(
                "No answers of {player} are kept. The listening drills are in the "
                "interface: press L there.",
                player=arguments.player,
            )
        )
        return
    _print_lines(ear_lines(results))
    _print_lines(tuning_lines(tunings))
    print(say("All in cents, with 90 % intervals. A bias of +3: 3 cents sharp sounds in tune."))


def _print_lines(lines: Iterable[str]) -> None:
    sys.stdout.writelines(f"{line}\n" for line in lines)


def _capital(sentence: str) -> str:
    return sentence[0].upper() + sentence[1:]


def _now() -> datetime:
    return datetime.now().astimezone()
