"""One line to type a value into, in the place where it is explained."""

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input


class TypedValue(Input):
    """An input line that Escape leaves without a change."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", show=False)]

    class Left(Message):
        """The player does not want to type after all."""

    def action_leave(self) -> None:
        """Leave without a change."""
        self.post_message(self.Left())
