"""What every page has: a heading over a thin rule, a place for troubles, and the key line."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.events import Resize
from textual.screen import Screen
from textual.widgets import Label, Static

from intonation.app.keys import EVERYWHERE, Key
from intonation.app.widgets.key_line import KeyLine

if TYPE_CHECKING:
    from intonation.app.application import IntonationApp
    from intonation.engine.messages import EngineEvent


class Page(Screen[None]):
    """A page; a subclass gives its heading, its keys and its body."""

    keys: ClassVar[tuple[Key, ...]] = ()
    common_keys: ClassVar[tuple[Key, ...]] = EVERYWHERE
    heading: ClassVar[str] = ""
    is_home: ClassVar[bool] = False
    """Whether takes that are started from here lead back here."""
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = []

    @property
    def program(self) -> IntonationApp:
        """The program that the page belongs to."""
        return cast("IntonationApp", self.app)

    @property
    def begun(self) -> bool:
        """Whether what the page is about has begun to sound; most pages are about no sound."""
        return True

    def compose(self) -> ComposeResult:
        """Lay out heading, troubles, body and key line."""
        with Vertical(id="sheet"):
            with Horizontal(id="heading"):
                yield Label(self.heading, id="title", markup=False)
                yield Label("", id="subtitle", markup=False)
            yield Static(id="troubles", markup=False)
            with Vertical(id="body"):
                yield from self.body()
            yield KeyLine(self.program.keys.of((*self.keys, *self.common_keys)))

    def body(self) -> ComposeResult:
        """Yield what stands between heading and key line."""
        yield from ()

    def on_mount(self) -> None:
        """Show what is wrong already when the page opens."""
        self.show_troubles(self.program.troubles)

    def hear(self, event: EngineEvent) -> None:
        """Take in what the sound engine said, also while another page lies on top."""

    def step(self) -> None:
        """Do what comes next on this page; most pages have nothing that a pedal could mean."""

    def on_resize(self, _: Resize) -> None:
        """Print for the new width."""
        self.once_drawn(self.print_all)

    def once_drawn(self, do: Callable[[], object]) -> None:
        """Do something when the page has been drawn, unless it was left meanwhile."""
        self.call_after_refresh(lambda: do() if self.is_attached else None)

    def print_all(self) -> None:
        """Print what depends on the state or the width of the page."""

    @property
    def print_width(self) -> int:
        """Width of a line of print, in characters."""
        return self.query_one("#body").content_size.width

    def show_troubles(self, troubles: tuple[str, ...]) -> None:
        """Print the sentences about what is wrong and what to do, in their place."""
        place = self.query_one("#troubles", Static)
        place.display = bool(troubles)
        place.update("\n".join(f"! {self.naming(trouble)}" for trouble in troubles))

    def naming(self, sentence: str) -> str:
        """Return a sentence that names keys of this page, with the player's own among them."""
        return self.program.keys.naming(sentence, (*self.keys, *self.common_keys))
