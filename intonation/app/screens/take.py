"""The take page: what to listen for, the card of the note that ended, and the notes so far."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import words
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.card import card
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.reading import reading
from intonation.app.printing.suggestions import suggestions
from intonation.app.printing.tables import notes_in_order
from intonation.app.screens.page import Page
from intonation.app.take_keys import TAKE
from intonation.app.take_state import TakeState
from intonation.engine.messages import EngineEvent
from intonation.practice.events import NoteScored
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import tuning_of
from intonation.words.listening import listen_for, listen_for_target
from intonation.words.note_card import ignored_in_words
from intonation.words.phases import phase_in_words

ROOMY = 30
"""From this height on there is room for blank lines."""


class TakePage(Page):
    """The page while the drone sounds. It is redrawn only when a note has ended, or when asked.

    Parameters
    ----------
    settings
        What the take is played with.
    aim
        What the take is for; None leaves it to the player.
    """

    keys = TAKE
    heading = words.TAKE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*TAKE, *EVERYWHERE))]

    def __init__(self, settings: PracticeSettings, aim: str | None = None) -> None:
        super().__init__()
        self.settings = settings
        self.aim = aim
        self.state = TakeState()

    def body(self) -> ComposeResult:
        """Lay out what to do, the reading for those who asked, the card, and the notes so far."""
        yield Static(id="task", markup=False)
        yield Static(id="reading", markup=False)
        yield Static(id="suggestions", markup=False)
        yield Static(id="card", markup=False)
        yield Static(id="notes", markup=False)

    def on_mount(self) -> None:
        """Print the page as it begins."""
        super().on_mount()
        self._print_reference()

    @property
    def begun(self) -> bool:
        """Whether the drone sounds."""
        return self.state.begun

    def hear(self, event: EngineEvent) -> None:
        """Print what has changed; nothing changes while a note sounds unseen."""
        before, self.state = self.state, self.state.after(event)
        if not self.is_mounted:
            return
        if self.state.reading is not before.reading and self.state.notes == before.notes:
            self._print_reading()
        elif self.state != before:
            self.print_all()

    def step(self) -> None:
        """Let the pedal do what Space does."""
        self.action_end()

    def action_end(self) -> None:
        """End the take."""
        self.program.takes.end()

    def action_reveal(self) -> None:
        """Show the pitch while a note sounds, or hide it again."""
        self.state = self.state.with_pitch(revealed=not self.state.revealed)
        self.program.takes.reveal_pitch(self.state.revealed)
        self.print_all()

    def print_all(self) -> None:
        """Print the whole page."""
        self._print_reference()
        self.query_one("#task", Static).update(self._task_now())
        self._print_reading()
        self._print_card()
        notes = self.query_one("#notes", Static)
        notes.display = bool(self.state.notes)
        notes.update(notes_in_order(self.state.notes, rows=self.size.height))

    def _print_reference(self) -> None:
        text = words.tuned_to(self.settings, keys=self.state.keys)
        self.query_one("#subtitle", Label).update(text)

    def _task_now(self) -> Content:
        latest, ignored = self.state.latest, self.state.ignored
        phase = Content.styled(phase_in_words(self.state.phase), STRONG)
        hint = ignored_in_words(ignored) if ignored else self._what_to_hear(latest)
        return Content("\n").join([phase, Content.styled(self.naming(hint), SOFT)])

    def _what_to_hear(self, latest: NoteScored | None) -> str:
        target = latest.scored.target if latest else None
        if target is None or target.reference_midi is None:
            return self.aim or listen_for(None)
        reference_hz = tuning_of(self.settings).hz(target.reference_midi)
        return listen_for_target(target, reference_hz=reference_hz)

    def _print_reading(self) -> None:
        place = self.query_one("#reading", Static)
        place.display = self.state.revealed
        if self.state.revealed:
            how = self.naming(words.PITCH_SHOWN)
            text = reading(self.state.reading, width=self.print_width, how=how)
            place.update(text, layout=False)

    def _print_card(self) -> None:
        """Print the card of the latest note, or what to begin with while there is none."""
        place, begin = self.query_one("#card", Static), self.query_one("#suggestions", Static)
        latest, width = self.state.latest, self.print_width
        place.display, begin.display = latest is not None, latest is None
        if latest is None:
            begin.update(suggestions(self.settings, width=width, airy=self.size.height >= ROOMY))
        else:
            place.update(card(latest, width=width))
