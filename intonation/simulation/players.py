"""Simulated players by name, for the demonstration and the tests. All of them are invented."""

from collections.abc import Sequence
from difflib import get_close_matches

import numpy as np

from intonation.errors import SettingsError
from intonation.instruments.instrument import Instrument
from intonation.language import say
from intonation.simulation.habits import EXACT, Habits
from intonation.simulation.plan import PlannedNote
from intonation.simulation.player import SimulatedPlayer
from intonation.simulation.recorder import SimulatedRecorder, invented_recorder

PLAYERS: dict[str, Habits] = {
    "exact": EXACT,
    "wren": Habits(low_breath_db=-0.8, second_breath_db=1.6, sag_db=0.6, matching=0.35),
    "heron": Habits(low_breath_db=-1.5, second_breath_db=-1.2, sag_db=1.2, matching=0.2),
    "magpie": Habits(second_breath_db=1.0, thumb_cents=14.0, wander_db=0.5, matching=0.1),
    "thrush": Habits(low_breath_db=0.3, second_breath_db=0.4, matching=0.8, vibrato_cents=8.0),
}
"""Habits by name (magnitudes invented for simulation): ``wren`` underblows low notes and overblows
high ones, ``heron`` plays softly and sinks, ``magpie`` opens the thumb too far and is unsteady,
``thrush`` listens well and plays with vibrato, ``exact`` plays what the instrument gives."""


def habits_named(name: str) -> Habits:
    """Return the habits of a named simulated player.

    Raises
    ------
    SettingsError
        If there is none of that name.
    """
    if name not in PLAYERS:
        names = get_close_matches(name, PLAYERS) or PLAYERS
        raise SettingsError(
            say('There is no simulated player "{name}".', name=name),
            say("Choose from {names}.", names=", ".join(names)),
        )
    return PLAYERS[name]


def simulated_player(
    name: str,
    instrument: Instrument,
    plan: Sequence[PlannedNote],
    *,
    seed: int,
    recorder: SimulatedRecorder | None = None,
    a4_hz: float = 440.0,
    reference_hz: Sequence[float] = (),
    lead_in_s: float = 2.5,
    sample_rate_hz: float = 48000.0,
) -> SimulatedPlayer:
    """Return a named player with an invented recorder of the given size, or one that is given.

    Parameters
    ----------
    name
        One of ``PLAYERS``.
    instrument, plan
        What is played.
    seed
        Decides the invented recorder's faults and all chance in the playing.
    recorder
        What is played on; None invents it.
    a4_hz, reference_hz, lead_in_s, sample_rate_hz
        As for ``SimulatedPlayer``.
    """
    rng = np.random.default_rng(seed)
    invented = invented_recorder(instrument, rng)
    return SimulatedPlayer(
        recorder or invented,
        habits_named(name),
        plan,
        rng=rng,
        a4_hz=a4_hz,
        reference_hz=reference_hz,
        lead_in_s=lead_in_s,
        sample_rate_hz=sample_rate_hz,
    )
