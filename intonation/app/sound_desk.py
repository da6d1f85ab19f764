"""What the program asks of the sound: an engine that runs when it is needed, and what it plays."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from intonation.app.sound_link import Heard, SoundLink
from intonation.app.sound_state import SoundState
from intonation.engine.messages import (
    EngineClosed,
    EngineCommand,
    EngineEvent,
    PlaySound,
    QuietDrone,
    SetLoudness,
    SoundDrone,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from intonation.app.application import IntonationApp
    from intonation.engine.workbench import Workbench
    from intonation.synth.soundfont_check import FontReport
    from intonation.synth.sounds import PlayersFont


class SoundDesk:
    """The sound engine behind the pages, and how it is doing.

    Parameters
    ----------
    program
        The program whose choices sound.
    heard
        Called with every event of the engine, on the engine's own thread.
    """

    def __init__(self, program: IntonationApp, heard: Heard) -> None:
        self._program = program
        self._is_open = False
        self.link = SoundLink(program.surroundings.connect, heard)
        self.state = SoundState()
        self.fonts_measured: dict[PlayersFont, FontReport] = {}

    def open(self) -> None:
        """Start the engine with the chosen devices, in the background."""
        self.state = SoundState()
        self._is_open = True
        self._program.run_worker(
            lambda: self.link.open(self._program.sound),
            thread=True,
            exclusive=True,
            exit_on_error=False,
        )

    def open_unless_open(self) -> None:
        """Start the engine if it does not run."""
        if not self._is_open:
            self.open()

    def command(self, command: EngineCommand) -> None:
        """Send a command to the engine, which is started first if it has ended."""
        self.link.send(command)
        self.open_unless_open()

    def sound_drone(self) -> None:
        """Let the drone sound as it is chosen at this moment."""
        self.command(SoundDrone(self._program.settings))

    def quiet_drone(self) -> None:
        """Let the drone that was sounded by `sound_drone` fade."""
        self.link.send(QuietDrone())

    def set_loudness(self) -> None:
        """Let whatever sounds take the chosen loudness."""
        self.link.send(SetLoudness(self._program.settings.loudness_db))

    def play(self, samples: NDArray[np.float32]) -> None:
        """Sound prepared samples once, outside a take, at the player's loudness."""
        self.set_loudness()
        self.command(PlaySound(samples))

    def follow_trials(self) -> None:
        """Let a simulated instrument be as the trials that stand have left it."""
        program = self._program
        opened = program.surroundings.workbench
        if program.sound.two_faults and opened is not None:
            program.attempt("workshop", lambda: self._take_work(opened()))

    def _take_work(self, bench: Workbench) -> None:
        program = self._program
        work = bench.standing_work(program.settings.player, program.settings.instrument)
        if work != program.sound.work:
            program.sound = replace(program.sound, work=work)
            self.open()

    def follow(self, event: EngineEvent) -> None:
        """Keep how the sound is doing up to date with what the engine said."""
        self.state = self.state.after(event)
        if isinstance(event, EngineClosed):
            self._is_open = False
