"""The demonstration of the workshop: a simulated alto with two faults, from check to proof."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import numpy as np

from intonation.app.stand_in import ITS_SIZE, TWO_FAULTS
from intonation.engine.check_bench import CheckBench
from intonation.engine.check_offline import play_check
from intonation.engine.connecting import simulated_connection
from intonation.engine.messages import SoundSettings
from intonation.engine.workbench import Workbench
from intonation.practice.checking import CheckSettings
from intonation.practice.settings import SIMULATED_PLAYER
from intonation.report.workshop_demonstration import WorkshopDemonstration
from intonation.store.store import Store

_BEGINS = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
_BETWEEN_TONES = timedelta(seconds=8)
_SETTINGS = CheckSettings(
    player=SIMULATED_PLAYER, instrument=TWO_FAULTS, size=ITS_SIZE, form="standard"
)


@dataclass(slots=True)
class _Days:
    """A clock that goes on by itself: the player needs no real time."""

    moment: datetime = field(default=_BEGINS)

    def now(self) -> datetime:
        self.moment += _BETWEEN_TONES
        return self.moment

    def next_day(self) -> None:
        self.moment += timedelta(days=1)


def demonstrated_workshop(*, seed: int) -> WorkshopDemonstration:
    """Return what came of the alto: both checks, the causes, the trial and its proof.

    Parameters
    ----------
    seed
        Decides the instrument, and all chance in the playing.
    """
    days = _Days()
    with Store(None) as store:
        bench, checks = Workbench(store, days.now), CheckBench(store, days.now)
        pair = _SETTINGS.player, _SETTINGS.instrument
        _play(checks, bench, seed)
        found = bench.examine(*pair)
        assert found is not None
        work = found.works[0]
        days.next_day()
        bench.log(*pair, work)
        _play(checks, bench, seed)
        (trial,) = bench.trials(*pair)
        return WorkshopDemonstration(found, work, bench.prove(trial))


def _play(checks: CheckBench, bench: Workbench, seed: int) -> None:
    """Let the player check the alto as the work that stands has left it."""
    work = bench.standing_work(_SETTINGS.player, _SETTINGS.instrument)
    sound = SoundSettings(simulated=True, two_faults=True, work=work, seed=seed)
    guided = checks.begin(_SETTINGS, np.random.default_rng((seed, len(work))))
    play_check(guided, lambda: simulated_connection(sound, real_time=False))
