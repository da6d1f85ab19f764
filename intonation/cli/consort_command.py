"""``intonation consort``: the concert pitch and pulls that bring instruments closest together."""

import argparse

from intonation.cli.named_instruments import name_on_record
from intonation.cli.workbenches import add_source_options, workbench
from intonation.engine.consorting import PULL, consort_member
from intonation.language import say
from intonation.pitch.concert_pitch import concert_pitch_hz
from intonation.report.paragraphs import paragraph
from intonation.words.consort import meeting_in_words
from intonation.words.work_cautions import cautions_for
from intonation.workshop.consort import ConsortMember, ConsortPitch, common_pitch


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command's options."""
    parser = subparsers.add_parser(
        "consort",
        help=say("find the common pitch of instruments"),
        description=say(
            "Find the concert pitch and the head-joint pulls that bring several instruments "
            "closest together, and the notes that stay apart."
        ),
    )
    parser.add_argument(
        "instruments",
        nargs="+",
        metavar="NAME[:SIZE]",
        help=say(
            "instruments of the record, such as tenor or 'plum alto'; add :SIZE if it is unknown"
        ),
    )
    add_source_options(parser)
    parser.add_argument("--a4", default="440", metavar="HZ", help=say("pitch of the measurements"))


def run(arguments: argparse.Namespace) -> int:
    """Print the common pitch."""
    split = [text.partition(":") for text in arguments.instruments]
    with workbench(arguments, {name: size for name, _, size in split if size}) as bench:
        names = dict.fromkeys(name_on_record(bench.store, name) or name for name, _, _ in split)
        members = [consort_member(bench, name, arguments.player) for name in names]
    meeting = common_pitch(members, a4_hz=concert_pitch_hz(arguments.a4))
    _print(members, meeting)
    return 0


def _print(members: list[ConsortMember], meeting: ConsortPitch) -> None:
    for indent, sentence in meeting_in_words(members, meeting):
        print(f"{' ' * indent}{sentence}")
    for caution in cautions_for([PULL]):
        print(*paragraph(caution), sep="\n")
