"""From a simulated player's sound to scores and a summary, through the real tracker."""

import numpy as np
import pytest

from intonation.instruments.library import instrument_named
from intonation.pitch.cents import cents_between
from intonation.practice.events import NoteScored, PracticeEvent, TakeEnded
from intonation.practice.session import PracticeSession
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of, tuning_of
from intonation.simulation.plan import PlannedNote, drone_practice
from intonation.simulation.player import SimulatedPlayer
from intonation.simulation.players import simulated_player
from intonation.tracking.tracker import Tracker

SECONDS_PER_NOTE = 1.2


def player_against_the_drone(
    name: str, settings: PracticeSettings, *, seed: int
) -> SimulatedPlayer:
    instrument = instrument_named(settings.instrument)
    rng = np.random.default_rng(seed)
    order = drone_practice(instrument, drone_midi=settings.drone_midi, count=4, rng=rng)
    plan = [PlannedNote(midi=n.midi, sounding_s=SECONDS_PER_NOTE, rest_s=0.5) for n in order]
    reference_hz = drone_of(settings).frequencies_hz
    return simulated_player(
        name, instrument, plan, seed=seed, reference_hz=reference_hz, a4_hz=settings.a4_hz
    )


def practised(player: SimulatedPlayer, settings: PracticeSettings) -> list[PracticeEvent]:
    """Let a player play everything; the drone is in headphones."""
    session = PracticeSession(settings, instrument_named(settings.instrument), headphones=True)
    tracker = Tracker(player.sample_rate_hz)
    said = session.start(0.0)
    while not player.exhausted:
        for event in tracker.feed(player.read(4096)):
            said += session.hear(event)
    for event in tracker.finish():
        said += session.hear(event)
    return [*said, *session.end(1000.0)]


@pytest.mark.parametrize(
    ("name", "instrument", "drone", "temperament", "a4_hz"),
    [
        ("wren", "alto", 65, "pure", 440.0),
        ("heron", "bass", 53, "vallotti", 415.0),
        ("magpie", "sopranino", 77, "pure", 442.0),
    ],
)
def test_every_note_is_scored_where_it_truly_lay(
    name: str, instrument: str, drone: int, temperament: str, a4_hz: float
) -> None:
    settings = PracticeSettings(
        instrument=instrument, drone_midi=drone, temperament=temperament, a4_hz=a4_hz
    )
    player = player_against_the_drone(name, settings, seed=11)
    said = practised(player, settings)
    scores = [event for event in said if isinstance(event, NoteScored)]
    assert [score.scored.target.midi for score in scores] == [n.midi for n in player.played]
    for score, truth in zip(scores, player.played, strict=True):
        true_cents = cents_between(truth.f0_hz, target_hz=tuning_of(settings).hz(truth.midi))
        assert score.scored.cents == pytest.approx(true_cents, abs=0.5)
    ended = said[-1]
    assert isinstance(ended, TakeEnded)
    assert sum(note.count for note in ended.summary.notes) == len(player.played)
