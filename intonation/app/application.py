"""The program on the screen: its pages, the sound engine behind them, and what is remembered.

Pages other than the first are imported when they are opened (`page_openers`, `take_desk`), so that
the program opens at once.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import App, SystemCommand
from textual.events import Key as KeyPressed
from textual.screen import Screen

from intonation.app import words
from intonation.app.check_words import NO_RECORD
from intonation.app.choices_remembered import with_choices
from intonation.app.instrument_shelf import InstrumentShelf, desk_in_memory
from intonation.app.keys import EVERYWHERE
from intonation.app.keys_in_use import KeysInUse
from intonation.app.messages import EngineSaid, RecordAnswered, RecordOpened
from intonation.app.page_openers import OPENERS
from intonation.app.practice_choices import louder
from intonation.app.screens.page import Page
from intonation.app.screens.practice import PracticePage
from intonation.app.sound_desk import SoundDesk
from intonation.app.stand_in import StandIn
from intonation.app.surroundings import Surroundings
from intonation.app.take_desk import TakeDesk
from intonation.app.themes import DAYLIGHT, EVENING, PAPERS
from intonation.engine.messages import (
    EngineEvent,
    PhraseScored,
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
    from intonation.app.check_desk import CheckDesk
    from intonation.app.ear_record import EarSitting
    from intonation.app.own_keys import OwnKeys
    from intonation.app.today_state import TodayState


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
        self._stand_in = StandIn(settings)
        self.shelf = InstrumentShelf(
            surroundings.instruments or desk_in_memory,
            whose=lambda settings: self._stand_in.to_remember(settings).player,
        )
        self.sound_desk = SoundDesk(self, self._heard)
        self.takes = TakeDesk(self)
        self._first_time = first_time
        self.today: TodayState | None = None
        self.today_is_for: tuple[str, str] | None = None
        self.keys = KeysInUse(own_keys or {})
        self.set_keymap(self.keys.keymap)
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
        """Open the set-up where nothing was chosen yet, and the rest when a page has been drawn."""
        if self._first_time:
            self.action_open("set_up")
        self.call_after_refresh(self._open_sound_and_record)

    def _open_sound_and_record(self) -> None:
        gc.enable()
        self.sound_desk.open_unless_open()
        if self.surroundings.open_record is not None:
            opened = self.surroundings.open_record
            self.run_worker(
                lambda: self.post_message(RecordOpened(opened())), thread=True, group="record"
            )

    def on_key(self, pressed: KeyPressed) -> None:
        """Take a capital letter that means nothing here for the small one: Caps Lock may be on."""
        if pressed.key.isupper() and pressed.key not in self.screen.active_bindings:
            self.simulate_key(pressed.key.lower())

    def choose(self, settings: PracticeSettings) -> None:
        """Make other practice settings count, and remember them."""
        self.settings = settings
        self._remember()

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

    def choose_sound(self, sound: SoundSettings) -> None:
        """Make other devices count, and remember them."""
        self.settings = self._stand_in.named(self.settings, before=self.sound, after=sound)
        self.sound = sound
        self._remember()
        self.sound_desk.follow_trials()

    def action_loudness(self, change_db: float) -> None:
        """Make the reference louder or softer, now and from now on."""
        self.choose(louder(self.settings, change_db))
        self.sound_desk.set_loudness()

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
        self.sound_desk.follow(event)
        self._set_trouble("sound", self.sound_desk.state.trouble)
        for page in self.pages:
            page.hear(event)
        self.takes.follow(event)
        if isinstance(event, StepWanted):
            self._step()

    @on(RecordOpened)
    def show_complaint(self, record: RecordOpened) -> None:
        """Say what is wrong with the record, and where notes are kept in its place."""
        self._set_trouble("record file", record.complaint)

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
            practice=self._stand_in.to_remember(self.settings),
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
