"""``intonation consort``: the concert pitch and pulls that bring instruments closest together."""

import argparse

import numpy as np

from intonation.acoustics.alterations import Alteration
from intonation.cli.workbenches import add_source_options, workbench
from intonation.engine.workbench import Workbench
from intonation.errors import SettingsError
from intonation.pitch.concert_pitch import concert_pitch_hz
from intonation.pitch.notes import note_name
from intonation.report.paragraphs import paragraph
from intonation.words.numbers import cents_word
from intonation.words.work_cautions import cautions_for
from intonation.words.workshop import TOO_FEW_NOTES
from intonation.workshop.consort import ConsortMember, ConsortPitch, common_pitch
from intonation.workshop.offsets import offsets_of

_PULL = Alteration(work="pull the head joint", amount_mm=1.0)
_MOST_APART = 8


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "consort",
        help="find the common pitch of instruments",
        description=(
            "Find the concert pitch and the head-joint pulls that bring several instruments "
            "closest together, and the notes that stay apart."
        ),
    )
    parser.add_argument(
        "instruments",
        nargs="+",
        metavar="NAME[:SIZE]",
        help="instruments of the record, such as tenor or 'plum alto:alto'",
    )
    add_source_options(parser)
    parser.add_argument("--a4", default="440", metavar="HZ", help="pitch of the measurements")


def run(arguments: argparse.Namespace) -> int:
    """Print the common pitch."""
    split = (text.partition(":") for text in arguments.instruments)
    named = {name: size or name for name, _, size in split}
    with workbench(arguments, named) as bench:
        members = [_member(bench, name, arguments.player) for name in named]
    meeting = common_pitch(members, a4_hz=concert_pitch_hz(arguments.a4))
    _print(members, meeting)
    return 0


def _member(bench: Workbench, name: str, player: str | None) -> ConsortMember:
    compass = bench.compass(name)
    rows = list(bench.notes(player, name))
    players = sorted({row.player for row in rows})
    # the best-known player speaks for the instrument
    count = {one: sum(row.player == one for row in rows) for one in players}
    best = max(players, key=lambda one: count[one], default="")
    offsets = offsets_of(rows, player=best, instrument=name) if rows else None
    if offsets is None:
        raise SettingsError(f'"{name}": {TOO_FEW_NOTES}', "See `intonation notes --means`.")
    cents, _ = offsets.placed(compass.midi)
    known = np.isfinite(cents)
    pitch = offsets.overall.pitch.mean
    return ConsortMember(
        name,
        tuple(np.array(compass.midi)[known].tolist()),
        tuple((cents[known] + pitch).tolist()),
        tuple(compass.effect([_PULL])[known].tolist()),
    )


def _print(members: list[ConsortMember], meeting: ConsortPitch) -> None:
    print(f"Tune to A4 = {meeting.a4_hz:.1f} Hz, all warmed up and at 20 °C.")
    for member, pull_mm in zip(members, meeting.pull_mm, strict=True):
        what = f"pull the head joint by {pull_mm:g} mm" if pull_mm else "leave it as it is"
        print(f"    {member.name}: {what}")
    if meeting.apart:
        print("Still apart by more than ten cents; agree on who gives way:")
        for midi, spread in meeting.apart[:_MOST_APART]:
            print(f"    {note_name(midi)}: {cents_word(spread)}")
    else:
        print("No note that two of them share stays more than ten cents apart.")
    for caution in cautions_for([_PULL]):
        print(*paragraph(caution), sep="\n")
