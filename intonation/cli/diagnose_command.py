"""``intonation diagnose``: ear, breath or instrument, from the practice record or from a table."""

import argparse
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from intonation.cli.records import add_record_option, record_to_read
from intonation.diagnosis.comparison import compare
from intonation.diagnosis.diagnosing import diagnose
from intonation.diagnosis.results import PairDiagnosis
from intonation.engine.instrument_desk import unknown_instrument
from intonation.errors import DataFileError, SettingsError
from intonation.heldnotes.exchange import rows_in
from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.own_instrument import spaced
from intonation.language import say
from intonation.report.diagnosis_report import (
    Compared,
    DiagnosedPair,
    diagnosis_csv,
    diagnosis_json,
    diagnosis_lines,
)
from intonation.store.comparable import comparable_notes


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "diagnose",
        help=say(
            "say whose each note's deviation is: the instrument's, the breath's, the fingers'"
        ),
        description=say(
            "Say of every note whose deviation it is, how sure that is, and what to play next to "
            "settle it."
        ),
    )
    parser.add_argument(
        "--held-notes", metavar="FILE", type=Path, help=say("read a held-note table (CSV) instead")
    )
    parser.add_argument("--player", metavar="NAME", help=say("answer for this player only"))
    parser.add_argument("--instrument", metavar="NAME", help=say("answer for this instrument only"))
    parser.add_argument(
        "--compare",
        metavar=("BEFORE", "AFTER"),
        nargs=2,
        action="append",
        default=[],
        help=say("say what changed between two sessions; repeat it for off, on, off, on"),
    )
    add_record_option(parser)
    output = parser.add_mutually_exclusive_group()
    output.add_argument("--json", action="store_true", help=say("print JSON"))
    output.add_argument("--csv", action="store_true", help=say("print a row for every note as CSV"))


def run(arguments: argparse.Namespace) -> int:
    """Print the diagnosis."""
    rows = list(_rows(arguments))
    before = tuple(dict.fromkeys(sessions[0] for sessions in arguments.compare))
    after = tuple(dict.fromkeys(sessions[1] for sessions in arguments.compare))
    _check_sessions(rows, before, after)
    _check_player(rows, arguments.player)
    instrument = _instrument(arguments, rows)
    found = [
        DiagnosedPair(pair, _compared(rows, pair, before, after))
        for pair in diagnose(rows, changed=after)
        if arguments.player in (None, pair.player) and instrument in (None, pair.instrument)
    ]
    if arguments.json:
        sys.stdout.write(diagnosis_json(found))
    elif arguments.csv:
        sys.stdout.write(diagnosis_csv(found))
    else:
        sys.stdout.writelines(f"{line}\n" for line in diagnosis_lines(found))
    return 0


def _instrument(arguments: argparse.Namespace, rows: Sequence[HeldNoteRow]) -> str | None:
    """Return the name of the instrument that is meant, as the notes have it."""
    asked: str | None = arguments.instrument
    known = {row.instrument for row in rows}
    if asked is None or not known or asked in known:
        return asked
    alike = (name for name in sorted(known) if spaced(name).casefold() == spaced(asked).casefold())
    name = next(alike, None)
    if name is None:
        raise unknown_instrument(asked, sorted(known), sizes=())
    return name


def _rows(arguments: argparse.Namespace) -> Iterator[HeldNoteRow]:
    if arguments.held_notes is not None:
        yield from _some(_rows_of_file(arguments.held_notes), arguments.held_notes)
        return
    with record_to_read(arguments.record) as store:
        yield from comparable_notes(store.database)


def _some(rows: Iterator[HeldNoteRow], path: Path) -> Iterator[HeldNoteRow]:
    first = next(rows, None)
    if first is None:
        raise DataFileError(
            say("{path} has a header but no notes.", path=path),
            say("Give it a row for every held note."),
        )
    yield first
    yield from rows


def _rows_of_file(path: Path) -> Iterator[HeldNoteRow]:
    try:
        with path.open(encoding="utf-8-sig", newline="") as lines:
            yield from rows_in(lines, file_name=str(path))
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise DataFileError(
            say("{path} cannot be read ({reason}).", path=path, reason=reason),
            say("Check its name."),
        ) from None
    except UnicodeDecodeError:
        raise DataFileError(
            say("{path} is not a text file in UTF-8.", path=path), say("Save it as CSV in UTF-8.")
        ) from None


def _check_sessions(
    rows: Sequence[HeldNoteRow], before: Sequence[str], after: Sequence[str]
) -> None:
    known = {row.session for row in rows}
    for session in (*before, *after):
        if session not in known:
            raise SettingsError(
                say('There is no session "{session}".', session=session),
                say("Choose from {known}.", known=", ".join(sorted(known)[:12]))
                if known
                else say("No notes are kept yet: play the instrument check first."),
            )
    both = {*before} & {*after}
    if both:
        raise SettingsError(
            say('Session "{session}" cannot be both before and after.', session=min(both)),
            say("Name each session on one side only."),
        )
    if before and not (_pairs_of(rows, before) & _pairs_of(rows, after)):
        raise SettingsError(
            say(
                "Nobody has played the same instrument before ({before}) and after ({after}).",
                before=", ".join(before),
                after=", ".join(after),
            ),
            say("Compare sessions of one player on one instrument."),
        )


def _pairs_of(rows: Iterable[HeldNoteRow], sessions: Sequence[str]) -> set[tuple[str, str]]:
    return {(row.player, row.instrument) for row in rows if row.session in sessions}


def _check_player(rows: Iterable[HeldNoteRow], player: str | None) -> None:
    known = {row.player for row in rows}
    if player is not None and known and player not in known:
        raise SettingsError(
            say('There are no notes of a player "{player}".', player=player),
            say("Choose from {known}.", known=", ".join(sorted(known)[:12])),
        )


def _compared(
    rows: Sequence[HeldNoteRow],
    pair: PairDiagnosis,
    before: tuple[str, ...],
    after: tuple[str, ...],
) -> Compared | None:
    if not before:
        return None
    own = [r for r in rows if (r.player, r.instrument) == (pair.player, pair.instrument)]
    sessions = {row.session for row in own}
    if sessions.isdisjoint(before) or sessions.isdisjoint(after):
        return None
    return Compared(before, after, compare(own, before=before, after=after))
