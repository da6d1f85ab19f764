"""Which notes are asked for once more: one tone alone cannot tell a habit from a slip."""

from collections import defaultdict
from collections.abc import Iterable, Sequence

import numpy as np

from intonation.diagnosis.check import CheckStep
from intonation.heldnotes.row import HeldNoteRow

DOUBTFUL_CENTS = 8.0
"""So far from what is usual between a tone as always and an exact one, either may have slipped."""
MOST_NOTES = 6
"""More would take more than a minute (both design judgement)."""


def doubtful_notes(rows: Iterable[HeldNoteRow]) -> tuple[int, ...]:
    """Return the notes whose tones as always and with exact fingers differ most, worst first.

    Parameters
    ----------
    rows
        The tones of one check. Swells do not count: breath moves them on purpose.
    """
    always, exact = defaultdict(list), defaultdict(list)
    for row in rows:
        if row.kind == "natural":
            always[row.midi].append(row.cents)
        elif row.kind == "careful":
            exact[row.midi].append(row.cents)
    both = sorted(always.keys() & exact.keys())
    if not both:
        return ()
    off = np.array([np.median(always[midi]) - np.median(exact[midi]) for midi in both])
    beyond = np.abs(off - np.median(off))
    worst_first = np.argsort(-beyond)[:MOST_NOTES]
    return tuple(both[place] for place in worst_first if beyond[place] > DOUBTFUL_CENTS)


def confirming_steps(played: Sequence[CheckStep], notes: Iterable[int]) -> tuple[CheckStep, ...]:
    """Return one more pass as always over some notes, in the order in which they came first.

    Parameters
    ----------
    played
        Every step of the check so far.
    notes
        The notes to be confirmed.
    """
    wanted = set(notes)
    order = dict.fromkeys(step.midi for step in played if step.midi in wanted)
    number = 1 + max((step.pass_number for step in played), default=-1)
    place = 1 + max((step.place for step in played), default=-1)
    return tuple(CheckStep(number, "A", midi, place + more) for more, midi in enumerate(order))
