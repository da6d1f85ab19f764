"""The demonstration: a simulated player practises, and all but the player is the real thing."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from intonation.engine.messages import SoundSettings
from intonation.engine.offline import practise
from intonation.engine.recorder import PracticeRecorder
from intonation.pitch.cents import cents_between
from intonation.practice.events import NoteScored, TakeEnded
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of
from intonation.report.demonstration import Demonstration
from intonation.simulation.plan import drone_practice
from intonation.simulation.player import PlayedNote, SimulatedPlayer
from intonation.simulation.players import simulated_player
from intonation.store.store import Store

NOTES = 8


@dataclass(slots=True)
class _Stage:
    """Makes the player when the take begins, and remembers it for its truth."""

    name: str
    seed: int
    player: SimulatedPlayer | None = None

    def player_for(self, settings: PracticeSettings) -> SimulatedPlayer:
        instrument = settings.recorder
        plan = drone_practice(
            instrument,
            drone_midi=settings.drone_midi,
            count=NOTES,
            rng=np.random.default_rng(self.seed),
        )
        self.player = simulated_player(
            self.name,
            instrument,
            plan,
            seed=self.seed,
            a4_hz=settings.a4_hz,
            reference_hz=drone_of(settings).frequencies_hz,
        )
        return self.player


def demonstrated(settings: PracticeSettings, *, name: str, seed: int) -> Demonstration:
    """Return what came of one take of a simulated player.

    Parameters
    ----------
    settings
        Instrument, tuning and drone.
    name
        Which simulated player, see `intonation.simulation.players`.
    seed
        Decides the invented instrument and all chance in the playing.
    """
    stage = _Stage(name, seed)
    events = list(
        practise(
            settings,
            SoundSettings(simulated=True, seed=seed),
            make_player=lambda chosen, _synth: stage.player_for(chosen),
        )
    )
    notes = [event for event in events if isinstance(event, NoteScored)]
    (summary,) = (event.summary for event in events if isinstance(event, TakeEnded))
    truth = stage.player.played if stage.player else ()
    return Demonstration(
        settings=settings,
        player=name,
        notes=tuple(notes),
        summary=summary,
        played=len(truth),
        kept=_kept(settings, notes),
        errors_cents=_errors_cents(notes, truth),
    )


def _kept(settings: PracticeSettings, notes: list[NoteScored]) -> int:
    """Return how many notes a real record took in and gave back."""
    with TemporaryDirectory() as folder, Store(Path(folder) / "practice.sqlite") as store:
        recorder = PracticeRecorder(store, session="demonstration", now=datetime.now)
        recorder.begin_take(settings)
        for note in notes:
            recorder.keep(note)
        recorder.end_take()
        return sum(1 for _ in store.held_notes(session="demonstration"))


def _errors_cents(notes: list[NoteScored], truth: tuple[PlayedNote, ...]) -> tuple[float, ...]:
    """Return how far each measured pitch lies from the true one that sounded at that moment."""
    errors = []
    for note in notes:
        held = note.scored.held
        middle_s = (held.onset_s + held.offset_s) / 2.0
        true_notes = [one for one in truth if one.onset_s <= middle_s <= one.offset_s]
        errors += [cents_between(held.f0_hz, target_hz=one.f0_hz) for one in true_notes]
    return tuple(errors)
