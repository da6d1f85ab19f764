"""``intonation trial``: what is wrong with an instrument, what to try, and what a trial did."""

import argparse
import sys
from collections.abc import Callable, Iterable, Sequence

from intonation.acoustics.alterations import Alteration
from intonation.cli.work_options import add_work_options, work_asked_for
from intonation.cli.workbenches import add_instrument_options, bench_and_pair
from intonation.engine.sheet import examined
from intonation.engine.workbench import Workbench
from intonation.errors import SettingsError
from intonation.language import say
from intonation.report.trial_report import (
    examination_lines,
    planned_lines,
    proof_lines,
    trial_lines,
)
from intonation.workshop.examining import Examination
from intonation.workshop.planning import PlannedWork, predicted
from intonation.workshop.trial import Trial

_SUMMARIES = {
    "list": say("list the trials of an instrument"),
    "propose": say("say what is wrong and what could be tried"),
    "predict": say("show what some work would do to every note, before anything is touched"),
    "log": say("keep that some work was done just now, with its prediction"),
    "undo": say("keep that a trial was undone just now"),
    "compare": say("show what a trial did, note by note, side effects first"),
}


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command, its steps and their options."""
    parser = subparsers.add_parser(
        "trial",
        help=say("find out what is wrong with an instrument, try a remedy, and prove it"),
        description=say(
            "Reversible work first: propose, predict, do and log it, measure, compare."
        ),
    )
    steps = parser.add_subparsers(title=say("steps"), metavar="STEP", dest="step", required=True)
    for name, summary in _SUMMARIES.items():
        step = steps.add_parser(name, help=summary, description=f"{summary.capitalize()}.")
        add_instrument_options(step)
        if name in ("predict", "log"):
            step.add_argument(
                "--option", type=int, metavar="N", help=say("number N of `trial propose`")
            )
            add_work_options(step)
        if name in ("log", "undo"):
            step.add_argument("--note", default="", metavar="TEXT", help=say("a word of your own"))
        if name in ("undo", "compare"):
            step.add_argument("trial", type=int, metavar="N", help=say("number of `trial list`"))
        if name == "compare":
            _add_sessions(step)


def _add_sessions(step: argparse.ArgumentParser) -> None:
    for which, meaning in (("before", say("before the work")), ("after", say("after it"))):
        step.add_argument(
            f"--{which}",
            action="append",
            default=[],
            metavar="SESSION",
            help=say(
                "a session of notes {meaning}, as in `intonation notes --csv`; may be repeated",
                meaning=meaning,
            ),
        )


def run(arguments: argparse.Namespace) -> int:
    """Take one step of a trial."""
    step: Callable[[Workbench, str, str, argparse.Namespace], Iterable[str]]
    step = {
        "list": _list,
        "propose": _propose,
        "predict": _predict,
        "log": _log,
        "undo": _undo,
        "compare": _compare,
    }[arguments.step]
    with bench_and_pair(arguments) as (bench, player, instrument):
        sys.stdout.writelines(f"{line}\n" for line in step(bench, player, instrument, arguments))
    return 0


def _list(bench: Workbench, player: str, instrument: str, _: argparse.Namespace) -> Iterable[str]:
    return trial_lines(bench.trials(player, instrument))


def _propose(
    bench: Workbench, player: str, instrument: str, _: argparse.Namespace
) -> Iterable[str]:
    return examination_lines(examined(bench, player, instrument))


def _predict(
    bench: Workbench, player: str, instrument: str, arguments: argparse.Namespace
) -> Iterable[str]:
    return planned_lines(_meant(examined(bench, player, instrument), arguments))


def _log(
    bench: Workbench, player: str, instrument: str, arguments: argparse.Namespace
) -> Iterable[str]:
    if arguments.held_notes is not None:
        raise SettingsError(
            say("A trial is kept in the practice record, not in a table."),
            say("Leave --held-notes out."),
        )
    work = _meant(examined(bench, player, instrument), arguments)
    number = bench.log(player, instrument, work, note=arguments.note)
    return [
        *planned_lines(work),
        "",
        say(
            "Logged as trial {number}. Measure the same notes again, then: intonation trial "
            "compare {number}",
            number=number,
        ),
    ]


def _undo(
    bench: Workbench, player: str, instrument: str, arguments: argparse.Namespace
) -> Iterable[str]:
    _trial(bench.trials(player, instrument), arguments.trial)
    bench.undo(arguments.trial, note=arguments.note)
    return trial_lines(bench.trials(player, instrument))


def _compare(
    bench: Workbench, player: str, instrument: str, arguments: argparse.Namespace
) -> Iterable[str]:
    trial = _trial(bench.trials(player, instrument), arguments.trial)
    proof = bench.prove(trial, before=arguments.before, after=arguments.after)
    return proof_lines(proof)


def _trial(trials: Sequence[Trial], number: int) -> Trial:
    for trial in trials:
        if trial.number == number:
            return trial
    raise SettingsError(
        say("There is no trial {number} of this instrument.", number=number),
        say("See `intonation trial list`."),
    )


def _meant(found: Examination, arguments: argparse.Namespace) -> PlannedWork:
    alterations: tuple[Alteration, ...] = work_asked_for(arguments, found.compass.geometry)
    if alterations:
        return predicted(found.compass, alterations, found.expected_cents)
    number = arguments.option or 1
    if not 1 <= number <= len(found.works):
        raise SettingsError(
            say("There is no proposal {number}.", number=number),
            say("See `intonation trial propose`, or name the work."),
        )
    return found.works[number - 1]
