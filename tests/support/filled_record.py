"""A record of two invented players: some weeks on an alto, a few sittings on a tenor."""

from datetime import UTC, datetime, timedelta

import numpy as np

from intonation.engine.recorder import PracticeRecorder
from intonation.listening.history import KeptAnswer
from intonation.listening.trials import Condition
from intonation.practice.settings import PracticeSettings
from intonation.store.listening_answers import ListeningAnswers
from intonation.store.store import Store
from tests.support.traces import held_against_the_drone

FIRST_DAY = datetime(2031, 2, 14, 12, 0, tzinfo=UTC)
ALTO = (65, 69, 72, 76, 77, 81, 84, 86)
TENOR = (60, 62, 64, 67)


def fill(store: Store, *, sittings: int = 6) -> None:
    """Let wren and heron play: one sharp of the other, wren's high notes better every time."""
    rng = np.random.default_rng(4)
    for sitting in range(sittings):
        moment = FIRST_DAY + timedelta(days=4 * sitting)
        slope = 0.9 * (1.0 - sitting / sittings)
        _sit(store, "wren", "alto", moment, [(m, 4.0 + slope * (m - 72)) for m in ALTO], rng)
    _sit(store, "heron", "alto", FIRST_DAY, [(m, -6.0) for m in ALTO], rng)
    _sit(store, "wren", "tenor", FIRST_DAY + timedelta(days=1), [(m, 1.0) for m in TENOR], rng)
    _listen(store, "wren")


def _sit(
    store: Store,
    player: str,
    instrument: str,
    began_at: datetime,
    notes: list[tuple[int, float]],
    rng: np.random.Generator,
) -> None:
    """Let a player hold each note twice, with some chance in it."""
    moment = began_at
    settings = PracticeSettings(player=player, instrument=instrument, temperature_c=20.5)
    recorder = PracticeRecorder(store, session=f"{began_at:%Y-%m-%d %H:%M}", now=lambda: moment)
    recorder.begin_take(settings)
    held = [(m, round(float(rng.normal(c, 2.0)), 2)) for m, c in (*notes, *reversed(notes))]
    for note in held_against_the_drone(settings, *held):
        moment += timedelta(seconds=20)
        recorder.keep(note)
    recorder.end_take()


def _listen(store: Store, player: str) -> None:
    answers = ListeningAnswers(store.database)
    for number in range(12):
        answers.add(
            player,
            KeptAnswer(
                condition=Condition(drill="which way", interval="fifth", register="low"),
                answered_at=FIRST_DAY + timedelta(minutes=number),
                step_cents=12.0,
                deviation_cents=12.0 * (-1) ** number,
                choices=2,
                choice="sharp" if number % 2 == 0 else "flat",
                right="sharp" if number % 2 == 0 else "flat",
            ),
        )
