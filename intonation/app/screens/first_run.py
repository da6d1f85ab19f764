"""The set-up: five short pages before the first take, each of which can be skipped."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label, Static
from textual.worker import Worker, WorkerState

from intonation.app import first_run_words as words
from intonation.app.choices import Choice
from intonation.app.devices_found import DevicesFound, search_devices
from intonation.app.first_run_choices import SetUp, set_up_choices
from intonation.app.first_run_keys import SET_UP
from intonation.app.instrument_choices import ANOTHER
from intonation.app.instrument_words import NONE_YET
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.first_run import chosen_lines, found_lines, sound_now_lines
from intonation.app.printing.habits import sentences
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.instruments import instrument_list
from intonation.app.screens.choosing import ChoosingPage
from intonation.app.sound_link import SoundLink
from intonation.app.widgets.key_line import KeyLine
from intonation.engine.messages import EngineEvent, SoundCounters, SoundReady, SoundSettings
from intonation.report.findings import Finding


class FirstRunPage(ChoosingPage[SetUp]):
    """The pages of the set-up, one after the other."""

    keys = SET_UP
    heading = words.SET_UP
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*SET_UP, *EVERYWHERE))]

    def __init__(self) -> None:
        super().__init__()
        self.part = words.WHO
        self.found = DevicesFound()
        self.findings: tuple[Finding, ...] | None = None
        self.is_checking = False

    def choices(self) -> tuple[Choice[SetUp], ...]:
        """Return the choices of the page, or those of the first one where a page has none."""
        return self._choices_of(self.part) or self._choices_of(words.WHO)

    def settings_now(self) -> SetUp:
        """Return what is chosen."""
        return SetUp(self.program.settings, self.program.sound)

    def change_to(self, settings: SetUp) -> None:
        """Make other choices count, and remember them."""
        self.program.choose(settings.practice)
        self.print_all()
        if settings.sound != self.program.sound:
            self.findings = None
            self.program.choose_sound(settings.sound)

    def body(self) -> ComposeResult:
        """Lay out what the page is about, its choices, and what it tells."""
        yield Static(id="set-up-about", markup=False)
        yield from super().body()
        yield Static(id="set-up-told", markup=False)

    def on_mount(self) -> None:
        """Begin with the first page, and look for devices meanwhile."""
        super().on_mount()
        self.sound_at_opening = self.program.sound
        self.run_worker(search_devices, thread=True, exit_on_error=False, group="devices")
        self._turn_to(self.part)

    @on(Worker.StateChanged)
    def take_result(self, changed: Worker.StateChanged) -> None:
        """Take in the devices that were found, or what the sound check has found."""
        if changed.worker.group == "devices" and changed.state is WorkerState.SUCCESS:
            if isinstance(changed.worker.result, DevicesFound):
                self.found = changed.worker.result
                self._offer()
        elif changed.worker.group == "check" and changed.worker.is_finished:
            self.is_checking = False
            self.findings = _findings(changed.worker.result)
            self.program.sound_desk.open()
            self.print_all()

    def hear(self, event: EngineEvent) -> None:
        """Show the input level on the page of the sound check."""
        if (
            self.is_mounted
            and self.part == words.CHECK
            and isinstance(event, SoundReady | SoundCounters)
        ):
            self.print_all()

    def action_next(self) -> None:
        """Go on to the next page; from the last one, to practice."""
        following = words.STEPS.index(self.part) + 1
        if following == len(words.STEPS):
            self.action_leave()
        elif not self.is_checking:
            self._turn_to(words.STEPS[following])

    def action_back(self) -> None:
        """Go back a page; from the first one, to practice."""
        before = words.STEPS.index(self.part) - 1
        if before < 0:
            self.action_leave()
        elif not self.is_checking:
            self._turn_to(words.STEPS[before])

    def action_leave(self) -> None:
        """Go to practice; everything chosen so far counts."""
        self.program.choose(self.program.settings)
        self._use_devices()
        self.dismiss()

    def action_type(self) -> None:
        """Type a value; on the page of the sound check, check."""
        if self.part == words.CHECK:
            self.action_check()
        elif self._has_choices:
            super().action_type()

    def action_move(self, lines: int) -> None:
        """Go to another line, where there are lines."""
        if self._has_choices:
            super().action_move(lines)

    def action_step(self, steps: int) -> None:
        """Change the chosen value, where there is one."""
        if self._has_choices:
            super().action_step(steps)

    def action_add(self) -> None:
        """On the first page, ask for the name of another instrument."""
        if self.part == words.WHO:
            self.lines.at = [choice.name for choice in self.lines.choices].index(ANOTHER)
            self.action_type()

    def action_check(self) -> None:
        """Check the sound; nothing else sounds meanwhile."""
        if self.part != words.CHECK or self.is_checking or not self._has_microphone:
            return
        self.is_checking, self.findings = True, None
        sound, link = self.program.sound, self.program.sound_desk.link
        self.run_worker(
            lambda: _checked(sound, link), thread=True, exit_on_error=False, group="check"
        )
        self.print_all()

    def _choices_of(self, part: str) -> tuple[Choice[SetUp], ...]:
        return set_up_choices(part, self.found, self.program.shelf)

    @property
    def _has_choices(self) -> bool:
        return bool(self._choices_of(self.part))

    @property
    def _has_microphone(self) -> bool:
        return not (self.program.sound.simulated or self.program.sound.recording)

    def _turn_to(self, step: str) -> None:
        if self.part == words.DEVICES:
            self._use_devices()
        self.part = step
        self._stop_typing()
        self.query_one("#choosing").display = self._has_choices
        self.query_one("#subtitle", Label).update(words.place(step))
        self._offer()
        self.print_all()

    def _use_devices(self) -> None:
        """Let the sound engine take other devices, if others were chosen."""
        if self.program.sound != self.sound_at_opening:
            self.sound_at_opening = self.program.sound
            self.program.sound_desk.open()

    def _offer(self) -> None:
        """Show the choices of this page."""
        self.lines.choices = self.choices()
        self.lines.at = min(self.lines.at, len(self.lines.choices) - 1)
        if self._has_choices:
            self.lines.at = 0
        self.lines.show(self.settings_now())
        self.lines.refresh(layout=True)
        self.explain()

    def print_all(self) -> None:
        """Print what the page is about and what it tells."""
        if not self.is_mounted:
            return
        self.query_one(KeyLine).leave_out(self._idle_keys())
        width = self.print_width
        introduced = self.naming(words.INTRODUCED[self.part])
        about = sentences([introduced], width=width, ink=STRONG)
        self.query_one("#set-up-about", Static).update(Content("\n").join(about))
        self.query_one("#set-up-told", Static).update(Content("\n").join(self._told(width)))

    def _idle_keys(self) -> set[str]:
        """Return the keys that do nothing on this page of the set-up."""
        checks = self.part == words.CHECK and self._has_microphone
        idle = set() if checks else {"set_up.check"}
        if self.part != words.WHO:
            idle.add("set_up.add")
        return idle if self._has_choices else idle | {"choices.down"}

    def _told(self, width: int) -> Sequence[Content]:
        match self.part:
            case words.WHO:
                return self._instrument_lines(width)
            case words.DEVICES if self.found.trouble:
                told = [self.found.trouble, words.WITHOUT_MICROPHONE]
                return sentences(map(self.naming, told), width=width)
            case words.CHECK:
                return self._check_lines(width)
            case words.READY:
                return chosen_lines(self.settings_now(), width=width, naming=self.naming)
        return []

    def _instrument_lines(self, width: int) -> Sequence[Content]:
        settings = self.program.settings
        own = self.program.shelf.own(settings)
        if not own:
            return sentences([self.naming(NONE_YET)], width=width, ink=SOFT)
        return instrument_list(own, in_hand=settings.instrument, width=width)

    def _check_lines(self, width: int) -> Sequence[Content]:
        if not self._has_microphone:
            return sentences([self.naming(words.NO_MICROPHONE_NEEDED)], width=width)
        if self.is_checking:
            return sentences([words.CHECKING], width=width)
        lines = sound_now_lines(self.program.sound_desk.state, width=width)
        if self.findings is None:
            return [*lines, Content(""), *sentences([words.CHECK_CAUTION], width=width, ink=SOFT)]
        return [*found_lines(self.findings, width=width), Content(""), *lines]


def _checked(sound: SoundSettings, link: SoundLink) -> tuple[Finding, ...]:
    """Return what a sound check finds; takes a few seconds, so call it on a thread."""
    from intonation.engine.sound_findings import found_in_sound

    # some systems lend a device to one program at a time
    link.end()
    return found_in_sound(sound)


def _findings(result: object) -> tuple[Finding, ...]:
    return result if isinstance(result, tuple) else ()
