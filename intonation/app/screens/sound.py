"""The sound page: which devices are used, how the sound is doing, and what to do about a fault."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from intonation.app import words
from intonation.app.choices import Choice
from intonation.app.devices_found import DevicesFound, search_devices
from intonation.app.keys import EVERYWHERE, SOUND, bindings
from intonation.app.printing.sound_report import sound_report
from intonation.app.screens.choosing import ChoosingPage
from intonation.app.sound_choices import sound_choices
from intonation.engine.messages import (
    EngineClosed,
    EngineEvent,
    SoundCounters,
    SoundFault,
    SoundReady,
    SoundSettings,
)

SOUND_EVENTS = (SoundReady, SoundFault, SoundCounters, EngineClosed)


class SoundPage(ChoosingPage[SoundSettings]):
    """Devices and their state. A change counts when the page is left."""

    keys = SOUND
    heading = words.SOUND
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*SOUND, *EVERYWHERE))]

    def __init__(self) -> None:
        super().__init__()
        self.found = DevicesFound()

    def choices(self) -> tuple[Choice[SoundSettings], ...]:
        """Return the choices with the devices found so far."""
        return sound_choices(self.found)

    def settings_now(self) -> SoundSettings:
        """Return the chosen devices."""
        return self.program.sound

    def change_to(self, settings: SoundSettings) -> None:
        """Remember other devices; the engine takes them when the page is left."""
        self.program.choose_sound(settings)

    def body(self) -> ComposeResult:
        """Add the state of the sound."""
        yield from super().body()
        yield Static(id="sound-report", markup=False)

    def on_mount(self) -> None:
        """Print the state and look for devices."""
        super().on_mount()
        self.settings_at_opening = self.program.sound
        self.print_all()
        self.action_search()

    def hear(self, event: EngineEvent) -> None:
        """Print the state of the sound as it changes."""
        if self.is_mounted and isinstance(event, SOUND_EVENTS):
            self.print_all()

    def action_search(self) -> None:
        """Look for devices in the background."""
        self.run_worker(search_devices, thread=True, exclusive=True, exit_on_error=False)

    @on(Worker.StateChanged)
    def take_devices(self, changed: Worker.StateChanged) -> None:
        """Offer the devices that were found."""
        if changed.state is WorkerState.SUCCESS and isinstance(changed.worker.result, DevicesFound):
            self.found = changed.worker.result
            self.lines.choices = self.choices()
            self.lines.refresh()
            self.explain()
            self.print_all()

    def action_back(self) -> None:
        """Use the chosen devices and go back."""
        if self.program.sound != self.settings_at_opening:
            self.program.open_sound()
        self.dismiss()

    def print_all(self) -> None:
        """Print the state of the sound."""
        report = sound_report(self.program.sound_state, trouble=self.found.trouble)
        self.query_one("#sound-report", Static).update(report)
