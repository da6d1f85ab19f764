"""The simulated alto with two faults, checked through the real engine faster than any clock."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import numpy as np

from intonation.acoustics.alterations import Alteration
from intonation.app.stand_in import ITS_SIZE, TWO_FAULTS
from intonation.diagnosis.results import Experiment
from intonation.engine.check_bench import CheckBench
from intonation.engine.check_offline import play_check
from intonation.engine.connections import StandIn
from intonation.engine.workbench import Workbench
from intonation.practice.checking import CheckSettings
from intonation.practice.settings import SIMULATED_PLAYER, PracticeSettings
from intonation.simulation.check_player import CheckPlayer, careful_case
from intonation.simulation.two_faults import recorder_with_two_faults
from intonation.store.store import Store

RATE_HZ = 16_000.0
"""Enough for an alto's lowest partials, and three times as quick as a sound card's rate."""
NOTES = (65, 69, 70, 71, 72, 74, 77, 79, 81, 82, 83, 84, 85, 88, 91)
"""Those that hole 4 and the upper bore move, their octaves, and some that they leave alone."""
BOTH: Experiment = "natural and careful-swell"
SETTINGS = CheckSettings(player=SIMULATED_PLAYER, instrument=TWO_FAULTS, size=ITS_SIZE)


@dataclass(slots=True)
class PlayedAlto:
    """The instrument with its player, its record, and a clock that goes on by itself."""

    store: Store
    seed: int
    now: datetime = field(default_factory=lambda: datetime(2031, 3, 14, 19, 0, tzinfo=UTC))
    workbench: Workbench = field(init=False)
    checks: CheckBench = field(init=False)

    def __post_init__(self) -> None:
        self.workbench = Workbench(self.store, self.clock)
        self.checks = CheckBench(self.store, self.clock)

    def clock(self) -> datetime:
        self.now += timedelta(seconds=8)
        return self.now

    def check(self, notes: Sequence[int] = NOTES) -> None:
        """Play each note as always, and with exact fingers; work that stands is played through."""
        self.now += timedelta(hours=1)
        work = self.workbench.standing_work(SIMULATED_PLAYER, TWO_FAULTS)
        rng = np.random.default_rng((self.seed, len(work)))
        guided = self.checks.begin_again(SETTINGS, dict.fromkeys(notes, BOTH), rng)
        play_check(guided, lambda: self.connection(work))

    def connection(self, work: Sequence[Alteration]) -> StandIn:
        def player(settings: PracticeSettings) -> CheckPlayer:
            recorder = recorder_with_two_faults(settings.recorder, seed=self.seed, work=work)
            return CheckPlayer(
                careful_case(recorder, seed=self.seed),
                rng=np.random.default_rng((self.seed, len(work))),
                sample_rate_hz=RATE_HZ,
                patient=False,
            )

        def silent(*_: object) -> CheckPlayer:
            raise AssertionError("nothing but checks is played here")

        return StandIn("alto", sample_rate_hz=RATE_HZ, make_source=silent, make_check_player=player)
