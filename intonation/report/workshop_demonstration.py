"""The demonstration of the workshop as lines of text: what a player reads, from check to proof."""

from collections.abc import Iterator
from dataclasses import dataclass

from intonation.language import say
from intonation.report.paragraphs import paragraph
from intonation.report.trial_report import examination_lines, planned_lines, proof_lines
from intonation.workshop.examining import Examination
from intonation.workshop.planning import PlannedWork
from intonation.workshop.proof import Proof

_STORY = say(
    "A simulated player checks an invented alto that was made with two faults: the upper part of "
    "its middle joint is too wide, which makes octaves too wide, and its hole 4 is too small. "
    "Engine, tracker, record and model are the real ones; they are told of neither. Its dimensions "
    "are not those that the model predicts with, and work on it does a little less than was meant."
)


@dataclass(frozen=True, slots=True)
class WorkshopDemonstration:
    """What was found, what was tried, and what that did."""

    found: Examination
    work: PlannedWork
    proof: Proof


def workshop_demonstration_lines(shown: WorkshopDemonstration) -> Iterator[str]:
    """Yield the demonstration line by line."""
    yield from paragraph(_STORY)
    yield from ("", say("AFTER THE FIRST CHECK"), "")
    yield from examination_lines(shown.found)
    yield from ("", say("BEFORE ANYTHING IS TOUCHED: THE FIRST WORK"), "")
    yield from planned_lines(shown.work)
    yield from ("", say("AFTER THE WORK, AND A SECOND CHECK"), "")
    yield from proof_lines(shown.proof)
    yield ""
    yield from paragraph(
        say(
            "Now you, with nothing at stake: `intonation demo --workshop --watch`, or in the "
            "interface W and then L."
        )
    )
