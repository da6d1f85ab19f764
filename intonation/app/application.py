"""The program on the screen: its pages, the sound engine behind them, and what is remembered.

Pages other than the first are imported when they are opened (`page_openers`, `take_desk`), so that
the program opens at once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import App, SystemCommand
from textual.screen import Screen

from intonation.app import words
from intonation.app.check_words import NO_RECORD
from intonation.app.choices_remembered import with_choices
from intonation.app.keys import EVERYWHERE, Key
from intonation.app.messages import EngineSaid, RecordAnswered
from intonation.app.page_openers import OPENERS
from intonation.app.practice_choices import louder
from intonation.app.screens.page import Page
from intonation.app.screens.practice import PracticePage
from intonation.app.sound_link import SoundLink
from intonation.app.sound_state import SoundState
from intonation.app.surroundings import Surroundings
from intonation.app.take_desk import TakeDesk
from intonation.app.themes import DAYLIGHT, EVENING, PAPERS
from intonation.engine.messages import (
    EngineClosed,
    EngineCommand,
    EngineEvent,
    PhraseScored,
    PlaySound,
    QuietDrone,
    SetLoudness,
    SoundDrone,
    SoundSettings,
    StepWanted,
    ToneHeard,
)
from intonation.errors import IntonationError
from intonation.practice.ear_choices import EarChoices
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.store.settings import RememberedSettings

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from intonation.app.check_desk import CheckDesk
    from intonation.app.ear_record import EarSitting
    from intonation.app.own_keys import OwnKeys
    from intonation.app.today_state import TodayState
    from intonation.synth.soundfont_check import FontReport
    from intonation.synth.sounds import PlayersFont


class IntonationApp(App[int]):
    """The terminal interface.

    Parameters
    ----------
    surroundings
        Engine, memory and record.
    settings, sound
        What the player chose last time.
    theme
        Name of the paper to print on; None takes daylight.
    ear
        What was chosen for the ear drills.
    own_keys
        Keys that the player wants otherwise.
    troubles
        Sentences to show from the start, by what they concern.
    first_time
        Whether the set-up opens by itself.
    """

    TITLE = words.PROGRAM
    CSS_PATH = Path(__file__).with_name("paper.tcss")
    ENABLE_COMMAND_PALETTE = True
    BINDINGS: ClassVar = []

    def __init__(
        self,
        surroundings: Surroundings,
        *,
        settings: PracticeSettings,
        sound: SoundSettings,
        theme: str | None = None,
        ear: EarChoices | None = None,
        own_keys: OwnKeys | None = None,
        troubles: dict[str, str] | None = None,
        first_time: bool = False,
    ) -> None:
        super().__init__()
        self.surroundings = surroundings
        self.settings = settings
        self.sound = sound
        self.sound_state = SoundState()
        self.link = SoundLink(surroundings.connect, self._heard)
        self.fonts_measured: dict[PlayersFont, FontReport] = {}
        self._sound_is_open = False
        self.takes = TakeDesk(self)
        self._first_time = first_time
        self.today: TodayState | None = None
        self.today_is_for: tuple[str, str] | None = None
        self._own_keys = dict(own_keys or {})
        self.set_keymap({name: ",".join(keys) for name, keys in self._own_keys.items()})
        self._ear_choices = ear or EarChoices()
        self._ear: EarSitting | None = None
        self._desk: CheckDesk | None = None
        self._troubles = dict(troubles or {})
        for paper in PAPERS:
            self.register_theme(paper)
        self.theme = theme if theme in {paper.name for paper in PAPERS} else DAYLIGHT.name

    @property
    def troubles(self) -> tuple[str, ...]:
        """What is wrong at the moment, as sentences that say what to do."""
        return tuple(self._troubles.values())

    def get_default_screen(self) -> Screen[None]:
        """Open on the practice page."""
        return PracticePage()

    def on_mount(self) -> None:
        """Start the sound beside the first page, and the set-up where nothing was chosen yet."""
        self.open_sound()
        if self._first_time:
            self.action_open("set_up")

    def open_sound(self) -> None:
        """Start the sound engine with the chosen devices, in the background."""
        self.sound_state = SoundState()
        self._sound_is_open = True
        self.run_worker(
            lambda: self.link.open(self.sound), thread=True, exclusive=True, exit_on_error=False
        )

    def choose(self, settings: PracticeSettings) -> None:
        """Make other practice settings count, and remember them."""
        self.settings = settings
        self._remember()

    def sound_drone(self) -> None:
        """Let the drone sound as it is chosen at this moment."""
        self.command_sound(SoundDrone(self.settings))

    def quiet_drone(self) -> None:
        """Let the drone that was sounded by `sound_drone` fade."""
        self.link.send(QuietDrone())

    def as_own(self, keys: tuple[Key, ...]) -> tuple[Key, ...]:
        """Return keys as the player has them."""
        if not self._own_keys:
            return keys
        from intonation.app.own_keys import with_own

        return with_own(keys, self._own_keys)

    @property
    def ear(self) -> EarSitting:
        """What the pages for the ear share."""
        if self._ear is None:
            from intonation.app.ear_record import EarRecord, EarSitting, answers_in_memory

            opened = self.surroundings.ear_answers or answers_in_memory
            self._ear = EarSitting(EarRecord(opened), self._ear_choices)
        return self._ear

    def choose_ear(self, choices: EarChoices) -> None:
        """Make other choices for the ear drills count, and remember them."""
        self.ear.choices = self._ear_choices = choices
        self._remember()

    def play(self, samples: NDArray[np.float32]) -> None:
        """Sound prepared samples once, outside a take, at the player's loudness."""
        self.link.send(SetLoudness(self.settings.loudness_db))
        self.command_sound(PlaySound(samples))

    def choose_sound(self, sound: SoundSettings) -> None:
        """Make other devices count, and remember them."""
        self.sound = sound
        self._remember()

    def command_sound(self, command: EngineCommand) -> None:
        """Send a command to the engine, which is started first if it has ended."""
        self.link.send(command)
        if not self._sound_is_open:
            self.open_sound()

    def action_loudness(self, change_db: float) -> None:
        """Make the reference louder or softer, now and from now on."""
        self.choose(louder(self.settings, change_db))
        self.link.send(SetLoudness(self.settings.loudness_db))

    def action_open(self, name: str) -> None:
        """Open the page of this name."""
        OPENERS[name](self)

    def open_check(self) -> None:
        """Open the instrument check, which needs a record to keep its tones in."""
        from intonation.app.check_desk import CheckDesk

        if self.surroundings.checks is None:
            self._set_trouble("check", NO_RECORD)
            return
        if self._desk is None:
            self._desk = CheckDesk(self, self.surroundings.checks())
        self._desk.open()

    def action_help(self) -> None:
        """Open the help for this page."""
        from intonation.app.screens.help import HelpPage

        if isinstance(self.screen, Page):
            self.push_screen(HelpPage(self.screen))

    def action_light(self) -> None:
        """Change between daylight and evening paper."""
        self.theme = EVENING.name if self.theme == DAYLIGHT.name else DAYLIGHT.name
        self._remember()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Offer everything that a key does on this page, by name."""
        page_keys = screen.keys if isinstance(screen, Page) else ()
        for key in (*page_keys, *EVERYWHERE):
            if key.is_command:
                yield SystemCommand(key.label, key.explanation, self._command(key.action, screen))

    def _command(self, action: str, screen: Screen[object]) -> Callable[[], object]:
        async def run() -> None:
            await self.run_action(action, screen)

        return run

    def _heard(self, event: EngineEvent) -> None:
        """Keep a scored note, then pass it on. Runs on the engine's reading thread."""
        if isinstance(event, NoteScored | PhraseScored | ToneHeard):
            self.post_message(RecordAnswered(self._kept(event)))
        self.post_message(EngineSaid(event))

    def _kept(self, note: NoteScored | PhraseScored | ToneHeard) -> IntonationError | None:
        try:
            if not isinstance(note, ToneHeard):
                self.surroundings.keep(note)
            elif self._desk is not None:
                self._desk.keep(note)
        except IntonationError as error:
            return error
        return None

    @on(EngineSaid)
    def pass_on(self, said: EngineSaid) -> None:
        """Let every open page take in what the engine said."""
        event = said.event
        self.sound_state = self.sound_state.after(event)
        self._set_trouble("sound", self.sound_state.trouble)
        for page in self.pages:
            page.hear(event)
        self.takes.follow(event)
        match event:
            case StepWanted():
                self._step()
            case EngineClosed():
                self._sound_is_open = False

    @on(RecordAnswered)
    def show_record(self, answered: RecordAnswered) -> None:
        """Say whether notes are kept."""
        self._set_trouble("record", str(answered.error) if answered.error else None)

    @property
    def pages(self) -> list[Page]:
        """Every page that is open, the topmost last."""
        return [screen for screen in self.screen_stack if isinstance(screen, Page)]

    def _step(self) -> None:
        if isinstance(self.screen, Page):
            self.screen.step()

    def leave_pages(self) -> None:
        """Leave every page that lies over the practice page, or over today's plan."""
        while len(self.screen_stack) > 1 and not self.is_home:
            self.pop_screen()

    @property
    def is_home(self) -> bool:
        """Whether the page on top is one that takes lead back to."""
        return isinstance(self.screen, Page) and self.screen.is_home

    def _remember(self) -> None:
        self.attempt("settings", lambda: self.surroundings.remember(self._choices()))

    def _choices(self) -> RememberedSettings:
        return with_choices(
            RememberedSettings(theme=self.theme),
            practice=self.settings,
            sound=self.sound,
            ear=self._ear_choices,
        )

    def attempt(self, concern: str, do: Callable[[], None]) -> None:
        """Do something, or say in its place on the page why it cannot be done."""
        try:
            do()
        except IntonationError as error:
            self._set_trouble(concern, str(error))

    def _set_trouble(self, concern: str, sentence: str | None) -> None:
        if self._troubles.get(concern) == sentence:
            return
        self._troubles.pop(concern, None)
        if sentence:
            self._troubles[concern] = sentence
        for page in self.pages:
            page.show_troubles(self.troubles)
