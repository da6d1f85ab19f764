"""The help page: every key of the page below it, from its key table."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import words
from intonation.app.keys import EVERYWHERE, HELP, Key, bindings
from intonation.app.printing.inks import STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.app.screens.page import Page

_INDENT = 12


class HelpPage(Page):
    """Help for one page.

    Parameters
    ----------
    about
        The page that was open.
    """

    keys = HELP
    common_keys = tuple(key for key in EVERYWHERE if key.name != "help")
    heading = words.HELP
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*keys, *common_keys))]

    def __init__(self, about: Page) -> None:
        super().__init__()
        self.about = about

    def body(self) -> ComposeResult:
        """Lay out what the page is for, and its keys."""
        with VerticalScroll(id="help"):
            about = self.about.naming(words.ABOUT_PAGES[self.about.heading])
            yield Static(about, id="about", markup=False)
            yield Static(id="key-rows", markup=False)

    def on_mount(self) -> None:
        """Say which page the help is about."""
        super().on_mount()
        self.query_one("#subtitle", Label).update(self.about.heading)

    def print_all(self) -> None:
        """Print every key of the page that the help is about."""
        place = self.query_one("#key-rows", Static)
        keys = self.program.keys.of((*self.about.keys, *EVERYWHERE))
        place.update(_key_rows(keys, width=place.content_size.width))

    def action_back(self) -> None:
        """Close the help page."""
        self.dismiss()


def _key_rows(keys: tuple[Key, ...], *, width: int) -> Content:
    rows = [
        beside(
            [Content.styled(f"{key.shown:>8}", STRONG)],
            key.explanation,
            indent=_INDENT,
            width=width,
            ink=TEXT,
        )
        for key in keys
    ]
    return Content("\n").join([line for row in rows for line in row])
