"""The comparison page: which notes changed between sittings before and after a change."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label

from intonation.app import check_words
from intonation.app.background import Progress
from intonation.app.check_keys import COMPARISON
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.comparison import changes, sittings
from intonation.app.printing.inks import SOFT
from intonation.app.printing.workshop import wrapped
from intonation.app.screens.working import WorkingPage
from intonation.diagnosis.comparison import NoteChange
from intonation.errors import SettingsError
from intonation.practice.checking import CheckSettings

if TYPE_CHECKING:
    from intonation.engine.check_bench import CheckBench
    from intonation.store.records import SessionRecord


class ComparisonPage(WorkingPage[tuple[NoteChange, ...]]):
    """Sittings of one player on one instrument, and what lies between them.

    Parameters
    ----------
    bench
        What the sittings are kept in.
    settings
        The pair.
    sides
        Sittings that were before or after the change, by name, as far as that is known.
    """

    keys = COMPARISON
    heading = check_words.COMPARISON
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*COMPARISON, *EVERYWHERE))]

    def __init__(
        self, bench: CheckBench, settings: CheckSettings, sides: Mapping[str, str]
    ) -> None:
        super().__init__()
        self.bench = bench
        self.settings = settings
        self.sides = dict(sides)
        self.known: tuple[SessionRecord, ...] = ()
        self.at = 0

    def on_mount(self) -> None:
        """Say whose sittings they are."""
        super().on_mount()
        whose = f"{self.settings.player} · {self.settings.instrument}"
        self.query_one("#subtitle", Label).update(Content(whose))

    def work_out(self, progress: Progress) -> tuple[NoteChange, ...] | None:
        """Read the sittings, and compare those that are on a side."""
        player, instrument = self.settings.player, self.settings.instrument
        self.known = tuple(reversed(self.bench.sessions(player, instrument)))
        before, after = self._on("before"), self._on("after")
        if not before and not after:
            return None
        if not before or not after:
            raise SettingsError(check_words.BOTH_SIDES, "")
        return self.bench.compare(player, instrument, before=before, after=after, progress=progress)

    @property
    def state_in_words(self) -> str:
        """What stands under the sittings while there is no result."""
        if self.share is None:
            return self.complaint or self.naming(check_words.CHOOSE_SESSIONS)
        return f"{self.naming(check_words.WORKING_OUT)} {100 * self.share:.0f} %"

    def printed(self, width: int) -> Content:
        """Return the sittings, and what changed between them."""
        if len(self.known) < 2:
            return wrapped([self.complaint or check_words.NO_SESSIONS], width=width)
        listed = sittings(self.known, self.sides, marked=self.at, width=width)
        if self.found is None:
            told = wrapped([self.state_in_words], width=width, ink=SOFT)
        else:
            told = changes(self.found, width=width)
        return Content("\n\n").join([listed, told])

    def action_move(self, lines: int) -> None:
        """Mark another sitting."""
        if self.known:
            self.at = (self.at + lines) % len(self.known)
            self.print_all()

    def action_side(self, side: str) -> None:
        """Put the marked sitting on a side, or on none, and mark the next."""
        if self.known:
            self.sides[self.known[self.at].session] = side
            self.found = None
            self.action_move(1)

    def action_compare(self) -> None:
        """Compare."""
        self.begin()

    def _on(self, side: str) -> tuple[str, ...]:
        return tuple(r.session for r in self.known if self.sides.get(r.session) == side)
