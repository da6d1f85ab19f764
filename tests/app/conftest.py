"""An interface on a scripted engine, for every test of the app."""

import time
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Static

from intonation.app.application import IntonationApp, Surroundings
from intonation.app.background import Progress
from intonation.app.surroundings import measured_apart
from intonation.engine.messages import SoundSettings
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.store.settings import RememberedSettings
from intonation.synth.soundfont_check import FontReport
from intonation.synth.sounds import PlayersFont
from tests.support.scripted_engine import ScriptedEngine, ScriptedSound


@dataclass(slots=True)
class Stand:
    """The interface, its scripted engine, and what it handed to memory and record."""

    sound: ScriptedSound = field(default_factory=ScriptedSound)
    remembered: list[RememberedSettings] = field(default_factory=list)
    kept: list[NoteScored] = field(default_factory=list)
    takes: list[PracticeSettings] = field(default_factory=list)
    refusal: Exception | None = None
    exercises_folder: Path = Path("my-exercises")
    measure_font: Callable[[PlayersFont, Progress], FontReport] = measured_apart

    @property
    def engine(self) -> ScriptedEngine:
        return self.sound.engine

    def keep(self, note: NoteScored) -> None:
        if self.refusal:
            raise self.refusal
        self.kept.append(note)

    def app(
        self,
        settings: PracticeSettings | None = None,
        *,
        sound: SoundSettings | None = None,
        theme: str | None = None,
        own_keys: dict[str, tuple[str, ...]] | None = None,
        troubles: dict[str, str] | None = None,
        first_time: bool = False,
        **joined: object,
    ) -> IntonationApp:
        """Return the interface, joined to whatever more of its surroundings is given."""
        surroundings = Surroundings(
            connect=self.sound,
            remember=self.remembered.append,
            begin_take=self.takes.append,
            keep=self.keep,
            end_take=lambda: None,
            exercises_folder=self.exercises_folder,
            measure_font=self.measure_font,
            **joined,
        )
        return IntonationApp(
            surroundings,
            settings=settings or PracticeSettings(),
            sound=sound or SoundSettings(),
            theme=theme,
            own_keys=own_keys,
            troubles=troubles,
            first_time=first_time,
        )

    @asynccontextmanager
    async def opened(
        self, settings: PracticeSettings | None = None, *, size: tuple[int, int] = (80, 24)
    ) -> AsyncIterator[Pilot[int]]:
        """Open the interface and wait until its engine listens."""
        app = self.app(settings)
        async with app.run_test(size=size) as pilot:
            await settled(pilot)
            yield pilot


async def settled(pilot: Pilot[int]) -> None:
    """Wait until nothing is left to do in the background or on the screen."""
    await pilot.pause()
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


@pytest.fixture
def in_one_time_zone(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let times stand on the screen as they do everywhere else."""
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.fixture
def stand() -> Stand:
    return Stand()


def screen_text(pilot: Pilot[int]) -> str:
    """Return what stands on the screen, line by line."""
    return "\n".join(strip.text for strip in pilot.app.screen._compositor.render_strips())


def words_on(pilot: Pilot[int]) -> str:
    """Return the words that stand on the screen, in one line."""
    return " ".join(screen_text(pilot).split())


def lines_without_room(pilot: Pilot[int]) -> list[str]:
    """Return the printed lines that are wider than their place, and so are cut or broken."""
    places = [place for place in pilot.app.screen.query(Static) if place.content_size.width]
    return [
        line
        for place in places
        for line in str(place.render()).splitlines()
        if cell_len(line.rstrip()) > place.content_size.width
    ]


async def press(pilot: Pilot[int], *keys: str) -> str:
    """Press keys one after another, and return the words that stand there then."""
    for key in keys:
        await pilot.press(key)
        await settled(pilot)
    return words_on(pilot)


async def play_take(stand: Stand, pilot: Pilot[int], notes: list[tuple[int, float]]) -> None:
    """Start a take and let these notes end: MIDI number and cents from the target."""
    await pilot.press("space")
    stand.engine.your_turn()
    for midi, cents in notes:
        stand.engine.end_note(midi, cents)
    await settled(pilot)


TAKE_NOTES = [
    (69, 3.2),
    (72, -12.6),
    (77, 8.1),
    (81, 14.2),
    (81, 18.9),
    (84, -31.0),
    (72, -9.4),
    (69, 0.0),
    (86, 22.4),
]
