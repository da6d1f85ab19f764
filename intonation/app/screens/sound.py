"""The sound page: devices and sounds, how the sound is doing, and what to do about a fault."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from intonation.app import words
from intonation.app.background import HowFar, progress_to, refusal
from intonation.app.choices import Choice
from intonation.app.devices_found import DevicesFound, search_devices
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.sound_report import sound_report
from intonation.app.screens.choosing import ChoosingPage
from intonation.app.sound_choices import sound_choices
from intonation.app.sound_keys import SOUND
from intonation.app.sounds_choices import NO_FONT, FontKnown, presets_of
from intonation.engine.messages import (
    EngineClosed,
    EngineEvent,
    SoundCounters,
    SoundFault,
    SoundReady,
    SoundSettings,
)
from intonation.errors import IntonationError
from intonation.synth.sounds import PlayersFont

if TYPE_CHECKING:
    from intonation.synth.soundfont_check import FontReport

SOUND_EVENTS = (SoundReady, SoundFault, SoundCounters, EngineClosed)


class SoundPage(ChoosingPage[SoundSettings]):
    """Devices and their state. A change counts when the page is left."""

    keys = SOUND
    heading = words.SOUND
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*SOUND, *EVERYWHERE))]

    def __init__(self) -> None:
        super().__init__()
        self.found = DevicesFound()
        self.font = NO_FONT
        self.to_measure: SoundSettings | None = None

    def choices(self) -> tuple[Choice[SoundSettings], ...]:
        """Return the choices with the devices found so far."""
        return sound_choices(self.found, self.font)

    def settings_now(self) -> SoundSettings:
        """Return the chosen devices, with a SoundFont that is being measured."""
        return self.to_measure or self.program.sound

    def change_to(self, settings: SoundSettings) -> None:
        """Remember other devices, a SoundFont once it is measured; they count on leaving."""
        self._stop_measuring()
        font = settings.sounds.own_font
        try:
            self._know(font)
        except IntonationError as error:
            self._say_mistake(str(error))
            return
        if font is None or self.font.report is not None:
            self.program.choose_sound(settings)
        else:
            self._measure(font, settings)

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
        self._begin_with_font(self.program.sound.sounds.own_font)

    def hear(self, event: EngineEvent) -> None:
        """Print the state of the sound as it changes."""
        if self.is_mounted and isinstance(event, SOUND_EVENTS):
            self.print_all()

    def action_search(self) -> None:
        """Look for devices in the background."""
        self.run_worker(
            search_devices, group="devices", thread=True, exclusive=True, exit_on_error=False
        )

    @on(Worker.StateChanged)
    def take_devices(self, changed: Worker.StateChanged) -> None:
        """Offer the devices that were found."""
        if changed.state is WorkerState.SUCCESS and isinstance(changed.worker.result, DevicesFound):
            self.found = changed.worker.result
            self._offer()
            self.print_all()

    def _offer(self) -> None:
        """Print the choices anew, with what is known now."""
        self.lines.choices = self.choices()
        self.lines.show(self.settings_now())
        self.lines.refresh(layout=True)
        self.explain()

    def _begin_with_font(self, font: PlayersFont | None) -> None:
        """Measure a SoundFont that was chosen in an earlier sitting, to say how it is in tune."""
        try:
            self._know(font)
        except IntonationError as error:
            self._say_mistake(str(error))
            return
        if font is not None and self.font.report is None:
            self._measure(font, self.program.sound)

    def _know(self, font: PlayersFont | None) -> None:
        if font is None:
            self.font = NO_FONT
        else:
            report = self.program.sound_desk.fonts_measured.get(font)
            self.font = FontKnown(presets=presets_of(font.path), report=report)
        self._offer()

    def _measure(self, font: PlayersFont, settings: SoundSettings) -> None:
        self.to_measure = settings
        self.font = replace(self.font, share=0.0)
        self._offer()
        self.run_worker(
            lambda: self.program.surroundings.measure_font(font, progress_to(self)),
            group="font",
            thread=True,
            exclusive=True,
            exit_on_error=False,
        )

    @on(HowFar)
    def show_share(self, how_far: HowFar) -> None:
        """Print how far the measurement is."""
        if self.to_measure is not None:
            self.font = replace(self.font, share=how_far.share)
            self._offer()

    @on(Worker.StateChanged)
    def take_report(self, changed: Worker.StateChanged) -> None:
        """Use a SoundFont that is measured, or say why it cannot be."""
        settings = self.to_measure
        if changed.worker.group != "font" or settings is None:
            return
        if changed.state is WorkerState.SUCCESS:
            self._take_report(changed.worker.result)
            self.to_measure = None
            self.change_to(settings)
            self._offer()
        elif changed.state is WorkerState.ERROR:
            self._refuse(refusal(changed.worker))

    def _take_report(self, report: FontReport | None) -> None:
        if report is not None:
            self.program.sound_desk.fonts_measured[report.font] = report

    def _refuse(self, refused: IntonationError | None) -> None:
        if refused is not None:
            self._stop_measuring()
            self._say_mistake(str(refused))

    def _stop_measuring(self) -> None:
        """Stop a measurement; the sounds from before go on to count."""
        if self.to_measure is None:
            return
        self.workers.cancel_group(self, "font")
        self.to_measure = None
        self._know(self.program.sound.sounds.own_font)

    def action_back(self) -> None:
        """Stop a measurement, or use the chosen devices and go back."""
        if self.to_measure is not None:
            self._stop_measuring()
            return
        if self.program.sound != self.settings_at_opening:
            self.program.sound_desk.open()
        self.dismiss()

    def print_all(self) -> None:
        """Print the state of the sound."""
        report = sound_report(self.program.sound_desk.state, trouble=self.found.trouble)
        self.query_one("#sound-report", Static).update(report)
