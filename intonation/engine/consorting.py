"""Joins the common pitch of a consort to the record: its instruments and their notes."""

import numpy as np

from intonation.acoustics.alterations import Alteration
from intonation.engine.workbench import Workbench, unwatched
from intonation.errors import SettingsError
from intonation.language import say
from intonation.words.workshop import TOO_FEW_NOTES
from intonation.workshop.compass import Progress
from intonation.workshop.consort import ConsortMember
from intonation.workshop.offsets import offsets_of

PULL = Alteration(work="pull the head joint", amount_mm=1.0)
"""What is done to bring instruments together."""


def instruments_on_record(bench: Workbench) -> tuple[str, ...]:
    """Return the instruments of the record whose size is known, in the order they came."""
    names = dict.fromkeys(session.instrument for session in bench.store.sessions())
    sizes = {one.name: one.size for one in bench.store.instruments.all()}
    return tuple(name for name in names if bench.sizes.get(name) or sizes.get(name))


def consort_member(
    bench: Workbench,
    name: str,
    player: str | None = None,
    *,
    progress: Progress = unwatched,
) -> ConsortMember:
    """Return an instrument as one of a consort.

    Parameters
    ----------
    bench
        The workbench with the record.
    name
        Which instrument.
    player
        Whose notes count; None takes those of whoever is known best on it.
    progress
        Called with the share that is done; an exception from it cancels.

    Raises
    ------
    SettingsError
        If its size is not known, or too few notes are kept of it.
    """
    compass = bench.compass(name)
    rows = list(bench.notes(player, name))
    players = sorted({row.player for row in rows})
    count = {one: sum(row.player == one for row in rows) for one in players}
    best = max(players, key=lambda one: count[one], default="")
    offsets = offsets_of(rows, player=best, instrument=name, progress=progress) if rows else None
    if offsets is None:
        raise SettingsError(f'"{name}": {TOO_FEW_NOTES}', say("See `intonation notes --means`."))
    cents, _ = offsets.placed(compass.midi)
    known = np.isfinite(cents)
    pitch = offsets.overall.pitch.mean
    return ConsortMember(
        name,
        tuple(np.array(compass.midi)[known].tolist()),
        tuple((cents[known] + pitch).tolist()),
        tuple(compass.effect([PULL])[known].tolist()),
    )
