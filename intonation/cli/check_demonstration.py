"""The demonstration of the instrument check: all but the player is the real thing."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np

from intonation.diagnosis.attribution import unwatched
from intonation.diagnosis.check import Form
from intonation.engine.check_bench import CheckBench
from intonation.engine.check_offline import play_check
from intonation.engine.connecting import simulated_connection
from intonation.engine.messages import SoundSettings
from intonation.instruments.instrument import Instrument
from intonation.practice.checking import CheckSettings
from intonation.report.check_demonstration import CheckDemonstration
from intonation.simulation.check_player import check_case
from intonation.store.store import Store

_BEGINS = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
_BETWEEN_NOTES = timedelta(seconds=8)


def demonstrated_check(instrument: Instrument, *, form: Form, seed: int) -> CheckDemonstration:
    """Return what came of a simulated player's check.

    Parameters
    ----------
    instrument
        What is checked.
    form
        How thorough.
    seed
        Decides the faults and all chance.
    """
    sound = SoundSettings(simulated=True, seed=seed)
    with Store(None) as store:
        bench = CheckBench(store, _clock())
        settings = CheckSettings(
            player="simulated player",
            instrument=instrument.name,
            size=instrument.size,
            form=form,
            fingering_system=instrument.chart.name,
        )
        guided = bench.begin(settings, np.random.default_rng(seed))
        play_check(guided, lambda: simulated_connection(sound, real_time=False))
        judged = bench.judge(settings.player, settings.instrument, progress=unwatched)
        assert judged is not None
        case = check_case(instrument, seed=seed)
        return CheckDemonstration(
            size=instrument.title,
            asked=guided.checking.number,
            kept=sum(1 for _ in store.held_notes()),
            pair=judged.pair,
            truth={note.midi: case.parts_cents(note.midi) for note in judged.pair.notes},
        )


def _clock() -> Callable[[], datetime]:
    """Return a clock that goes on by itself: the player needs no real time."""
    moment = _BEGINS

    def now() -> datetime:
        nonlocal moment
        moment += _BETWEEN_NOTES
        return moment

    return now
