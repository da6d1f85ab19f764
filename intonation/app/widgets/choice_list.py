"""Choices one under the other, like the lines of a programme: one is chosen and can be changed."""

from typing import Generic

from textual.content import Content
from textual.events import Click
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from intonation.app.choices import Choice, Settings
from intonation.app.printing.inks import SOFT, STRONG, TEXT

LABEL_WIDTH = 18
VALUE_WIDTH = 24
_BESIDE_VALUE = 7


class ChoiceList(Widget, Generic[Settings]):
    """Lines of choices; the chosen line is marked and has arrows at both sides of its value.

    Parameters
    ----------
    choices
        One for each line.
    settings
        What they show.
    """

    at: reactive[int] = reactive(0)

    class Moved(Message):
        """Another line was chosen."""

    def __init__(self, choices: tuple[Choice[Settings], ...], settings: Settings) -> None:
        super().__init__()
        self.choices = choices
        self.settings = settings

    @property
    def chosen(self) -> Choice[Settings]:
        """The choice of the marked line."""
        return self.choices[self.at]

    def move(self, lines: int) -> None:
        """Mark the line so many lines below (negative: above), going round."""
        self.at = (self.at + lines) % len(self.choices)

    def show(self, settings: Settings) -> None:
        """Show other settings."""
        self.settings = settings
        self.refresh()

    def watch_at(self) -> None:
        """Let the page explain the marked line."""
        self.post_message(self.Moved())

    def on_click(self, click: Click) -> None:
        """Mark the line that was clicked."""
        if click.y < len(self.choices):
            self.at = click.y

    def get_content_height(self, *_: object) -> int:
        """Return one line for each choice."""
        return len(self.choices)

    def render(self) -> Content:
        """Print every line."""
        return Content("\n").join(
            [self._line(choice, choice is self.chosen) for choice in self.choices]
        )

    def _fitting(self, value: str) -> str:
        """Return a value as far as its line has room for it."""
        room = self.size.width - LABEL_WIDTH - _BESIDE_VALUE
        return value if not 0 < room < len(value) else f"{value[: room - 1]}…"

    def _line(self, choice: Choice[Settings], marked: bool) -> Content:
        value = self._fitting(choice.shown(self.settings))
        if not marked:
            return Content.assemble(f"  {_label(choice)}  ", (value, TEXT))
        before, after = ("‹", "›") if choice.stepped else (" ", " ")
        line = Content.assemble(
            (f"▸ {_label(choice)}", STRONG),
            (f"{before} ", SOFT),
            (value, STRONG),
            (f" {after}", SOFT),
        )
        width = LABEL_WIDTH + VALUE_WIDTH + 4
        return line.pad_right(max(0, width - line.cell_length)).stylize("on $chosen")


def _label(choice: Choice[Settings]) -> str:
    label = choice.label
    return (
        f"{label:<{LABEL_WIDTH}}" if len(label) <= LABEL_WIDTH else f"{label[: LABEL_WIDTH - 1]}…"
    )
