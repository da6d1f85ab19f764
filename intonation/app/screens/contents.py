"""The contents: every page that there is, with its key and a sentence, from the one key table."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Click
from textual.widgets import Static

from intonation.app import words
from intonation.app.contents_keys import CONTENTS
from intonation.app.keys import EVERYWHERE, Key, bindings
from intonation.app.practice_keys import PRACTICE
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.printing.wrapping import beside
from intonation.app.screens.page import Page

_FIRST = ("today", "exercises", "ear", "habits", "check", "traces", "workshop")
"""What a newcomer looks for; the others follow as they stand in the key table."""


def _place(key: Key) -> int:
    name = key.name.removeprefix("practice.")
    return _FIRST.index(name) if name in _FIRST else len(_FIRST)


ENTRIES: tuple[Key, ...] = tuple(
    sorted(
        (
            key
            for key in PRACTICE
            if key.action.startswith("app.") and key.name != "practice.contents"
        ),
        key=_place,
    )
)
"""The pages that open from the practice page."""

_INDENT, _SCROLLBAR = 24, 2


class ContentsPage(Page):
    """Choose a page; its own letter opens it too."""

    keys = CONTENTS
    heading = words.CONTENTS
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings((*CONTENTS, *EVERYWHERE)),
        *(
            Binding(",".join(key.keys), f"go({place})", key.label, id=key.name)
            for place, key in enumerate(ENTRIES)
        ),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.at = 0

    def body(self) -> ComposeResult:
        """Lay out the list."""
        with VerticalScroll(id="habit-list"):
            yield Static(id="habit-rows", markup=False)

    def print_all(self) -> None:
        """Print every page with its key."""
        rows = self._rows()
        lines = [line for row in rows for line in row]
        self.query_one("#habit-rows", Static).update(Content("\n").join(lines))
        above = sum(len(row) for row in rows[: self.at])
        listed = self.query_one("#habit-list", VerticalScroll)
        if not above < listed.scroll_y + listed.size.height - 1 or above < listed.scroll_y:
            listed.scroll_to(y=above, animate=False)

    def _rows(self) -> list[list[Content]]:
        width = self.print_width - _SCROLLBAR
        return [
            [line.pad_right(max(0, width - line.cell_length)) for line in lines]
            for lines in (
                beside(
                    [_entry(key, marked=place == self.at)],
                    key.explanation,
                    indent=_INDENT,
                    width=width,
                    ink=TEXT if place == self.at else SOFT,
                )
                for place, key in enumerate(self.program.keys.of(ENTRIES))
            )
        ]

    def on_click(self, click: Click) -> None:
        """Mark the page that was clicked."""
        listed = self.query_one("#habit-list", VerticalScroll)
        line = click.screen_y - listed.region.y + round(listed.scroll_y)
        ends = 0
        for place, row in enumerate(self._rows()):
            ends += len(row)
            if ends - len(row) <= line < ends:
                self.at = place
                self.print_all()

    def action_move(self, steps: int) -> None:
        """Mark another page, going round."""
        self.at = (self.at + steps) % len(ENTRIES)
        self.print_all()

    async def action_go(self, place: int) -> None:
        """Open a page in place of the contents."""
        self.dismiss()
        await self.app.run_action(ENTRIES[place].action, self.app)

    async def action_open(self) -> None:
        """Open the marked page."""
        await self.action_go(self.at)

    def action_back(self) -> None:
        """Go back to practice."""
        self.dismiss()


def _entry(key: Key, *, marked: bool) -> Content:
    return Content.styled(f"{'▸' if marked else ' '} {key.shown:>2}  {key.label}", STRONG)
