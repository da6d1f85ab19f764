"""A page of choices: lines at the left, the explanation of the chosen line at the right."""

from __future__ import annotations

from abc import abstractmethod
from typing import Generic

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Static

from intonation.app.choices import Choice, Settings
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.screens.page import Page
from intonation.app.widgets.choice_list import ChoiceList
from intonation.app.widgets.typed_value import TypedValue
from intonation.errors import IntonationError


class ChoosingPage(Page, Generic[Settings]):
    """Choose with the arrows, or type; every change counts at once."""

    @abstractmethod
    def choices(self) -> tuple[Choice[Settings], ...]:
        """Return the lines of this page."""

    @abstractmethod
    def settings_now(self) -> Settings:
        """Return the settings as they stand."""

    @abstractmethod
    def change_to(self, settings: Settings) -> None:
        """Make other settings count."""

    def body(self) -> ComposeResult:
        """Lay out lines, explanation, and the line to type into."""
        with Horizontal(id="choosing"):
            yield ChoiceList(self.choices(), self.settings_now())
            with Vertical(id="beside"):
                yield Static(id="explanation", markup=False)
                yield TypedValue(id="typed")
                yield Static(id="mistake", markup=False)

    def on_mount(self) -> None:
        """Start with nothing to type."""
        super().on_mount()
        self._stop_typing()

    def on_screen_resume(self) -> None:
        """Show what another page may have changed."""
        if self.is_mounted:
            self.lines.show(self.settings_now())
            self.explain()

    @property
    def lines(self) -> ChoiceList[Settings]:
        """The lines of choices."""
        return self.query_one(ChoiceList)

    @on(ChoiceList.Moved)
    def explain(self) -> None:
        """Print what the chosen line means."""
        if not self.is_mounted:
            return
        chosen = self.lines.chosen
        heading = Content.styled(chosen.label[0].upper() + chosen.label[1:], STRONG)
        sentence = Content.styled(self.naming(chosen.explained(self.settings_now())), TEXT)
        self.query_one("#explanation", Static).update(
            Content("\n").join([heading, Content.styled(sentence.plain, SOFT)])
        )

    def action_move(self, lines: int) -> None:
        """Go to another line."""
        self._stop_typing()
        self.lines.move(lines)

    def action_step(self, steps: int) -> None:
        """Change the chosen value by steps."""
        stepped = self.lines.chosen.stepped
        if stepped is None:
            self.action_type()
            return
        self._stop_typing()
        try:
            settings = stepped(self.settings_now(), steps)
        except IntonationError as error:
            self._say_mistake(str(error))
        else:
            self._change(settings)

    def action_type(self) -> None:
        """Open the line to type the chosen value into; step on where nothing can be typed."""
        chosen = self.lines.chosen
        if chosen.entered is None:
            self.action_step(1)
            return
        typed = self.query_one(TypedValue)
        typed.display = True
        typed.value = ""
        typed.placeholder = chosen.shown(self.settings_now())
        typed.focus()

    @on(TypedValue.Submitted)
    def take_typed(self, submitted: TypedValue.Submitted) -> None:
        """Take the typed value, or say what is wrong with it and let it be corrected."""
        entered = self.lines.chosen.entered
        if entered is None:
            return
        try:
            settings = entered(self.settings_now(), submitted.value)
        except IntonationError as error:
            if submitted.value.strip():
                self._say_mistake(str(error))
            else:  # Enter, and Enter again: the shown value stands
                self._stop_typing()
            return
        self._stop_typing()
        self._change(settings)

    @on(TypedValue.Left)
    def leave_typed(self) -> None:
        """Leave the value as it was."""
        self._stop_typing()

    def _change(self, settings: Settings) -> None:
        self.change_to(settings)
        self.lines.show(self.settings_now())
        self.explain()

    def _stop_typing(self) -> None:
        self.query_one(TypedValue).display = False
        self.set_focus(None)
        self._say_mistake("")

    def _say_mistake(self, sentence: str) -> None:
        mistake = self.query_one("#mistake", Static)
        mistake.display = bool(sentence)
        mistake.update(sentence)
