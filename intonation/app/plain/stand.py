"""What all parts of the plain interface share: the sound, the choices, and saying and asking."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from intonation.app.choices_remembered import with_choices
from intonation.app.ear_record import EarRecord, EarSitting, answers_in_memory
from intonation.app.instrument_shelf import InstrumentShelf, desk_in_memory
from intonation.app.plain import words
from intonation.app.plain.inbox import Inbox, Typed
from intonation.app.practice_choices import louder
from intonation.app.sound_link import SoundLink
from intonation.app.stand_in import StandIn
from intonation.engine.messages import (
    EngineClosed,
    EngineCommand,
    EngineEvent,
    PhraseScored,
    PlaySound,
    SetLoudness,
    SoundFault,
    SoundSettings,
    ToneHeard,
)
from intonation.errors import IntonationError
from intonation.practice.events import NoteScored

if TYPE_CHECKING:
    from intonation.app.surroundings import Surroundings
    from intonation.engine.guided_check import GuidedCheck
    from intonation.practice.ear_choices import EarChoices
    from intonation.practice.settings import PracticeSettings
    from intonation.store.settings import RememberedSettings

Say = Callable[[str], None]
LOUDNESS_STEP_DB = 3.0


class Leave(Exception):  # noqa: N818 nothing has gone wrong
    """The player leaves, or nobody types any more."""


class PlainStand:
    """The plain counterpart of the program on the screen.

    Parameters
    ----------
    surroundings
        Engine, memory and record.
    choices
        What the player chose last time.
    sound
        Where sound comes from and goes to.
    inbox
        Where typed lines arrive.
    say
        Prints one line.
    """

    def __init__(
        self,
        surroundings: Surroundings,
        choices: RememberedSettings,
        *,
        sound: SoundSettings,
        inbox: Inbox,
        say: Say,
    ) -> None:
        self.surroundings = surroundings
        self.settings: PracticeSettings = choices.practice
        self.sound = sound
        self._stand_in = StandIn(self.settings)
        self.shelf = InstrumentShelf(
            surroundings.instruments or desk_in_memory,
            whose=lambda settings: self._stand_in.to_remember(settings).player,
        )
        self.link = SoundLink(surroundings.connect, self._heard)
        self.ear = EarSitting(EarRecord(surroundings.ear_answers or answers_in_memory), choices.ear)
        self._remembered = choices
        self._inbox = inbox
        self._say = say
        self._is_open = False
        self.checked: GuidedCheck | None = None

    def say(self, *lines: str) -> None:
        """Print lines, one after the other."""
        for line in lines:
            self._say(line)

    def try_to(self, do: Callable[[], object]) -> bool:
        """Do something that may fail, say so if it does, and return whether it went well."""
        try:
            do()
        except IntonationError as error:
            self.say(f"! {error}")
            return False
        return True

    def arrivals(self) -> Iterator[Typed | EngineEvent]:
        """Yield what arrives; faults of the sound are said, and the end of typing leaves.

        Raises
        ------
        Leave
            If no more can be typed.
        """
        while True:
            arrived = self._inbox.next()
            match arrived:
                case Typed(None):
                    raise Leave
                case SoundFault(sentence, what_to_do):
                    self.say(f"! {sentence} {what_to_do}")
                case EngineClosed():
                    self._is_open = False
            yield arrived

    def asked(self) -> str:
        """Return the next typed line; what the sound says meanwhile is only said if it is wrong."""
        return next(each.line or "" for each in self.arrivals() if isinstance(each, Typed))

    def command(self, command: EngineCommand) -> None:
        """Send a command to the engine, which is started first if it does not run."""
        self.link.send(command)
        if not self._is_open:
            self._is_open = True
            self.link.open(self.sound)

    def play(self, samples: object) -> None:
        """Sound prepared samples at the player's loudness."""
        self.link.send(SetLoudness(self.settings.loudness_db))
        self.command(PlaySound(samples))  # type: ignore[arg-type]

    def turn_loudness(self, typed: str) -> bool:
        """Make the reference louder or softer if that was typed; return whether it was."""
        steps = {"+": 1.0, "-": -1.0, "−": -1.0}
        if typed not in steps:
            return False
        self.choose(louder(self.settings, steps[typed] * LOUDNESS_STEP_DB))
        self.link.send(SetLoudness(self.settings.loudness_db))
        return True

    def choose(self, settings: PracticeSettings) -> None:
        """Make other practice settings count, and remember them."""
        self.settings = settings
        self._remember()

    def choose_ear(self, choices: EarChoices) -> None:
        """Make other choices for the ear drills count, and remember them."""
        self.ear.choices = choices
        self._remember()

    def choose_sound(self, sound: SoundSettings) -> None:
        """Make other devices count, and remember them; the engine is started anew when needed."""
        if sound != self.sound:
            self.settings = self._stand_in.named(self.settings, before=self.sound, after=sound)
            self.sound = sound
            self.link.end()
            self._is_open = False
            self._remember()

    def _remember(self) -> None:
        remembered = self._stand_in.to_remember(self.settings)
        choices = with_choices(
            self._remembered, practice=remembered, sound=self.sound, ear=self.ear.choices
        )
        self.try_to(lambda: self.surroundings.remember(choices))

    def _heard(self, event: EngineEvent) -> None:
        """Keep what was scored before it is said. Runs on the engine's own thread."""
        if isinstance(event, NoteScored | PhraseScored):
            self.try_to(lambda: self.surroundings.keep(event))
        elif isinstance(event, ToneHeard) and (checked := self.checked) is not None:
            self.try_to(lambda: checked.hear(event))
        self._inbox.put(event)


def not_understood(stand: PlainStand) -> None:
    """Say that what was typed means nothing here."""
    stand.say(words.NOT_UNDERSTOOD)


def is_over(event: object) -> bool:
    """Return whether nothing more will sound after an event."""
    return isinstance(event, EngineClosed) or (isinstance(event, SoundFault) and event.fatal)
