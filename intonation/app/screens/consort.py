"""The consort page: the pitch and the pulls that bring instruments closest together."""

from __future__ import annotations

from functools import partial
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label

from intonation.app import consort_words
from intonation.app.background import Progress
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.workshop import marked_lines, wrapped
from intonation.app.screens.working import WorkingPage
from intonation.app.workshop_keys import CONSORT
from intonation.engine.consorting import (
    PULL,
    consort_member,
    instruments_on_record,
)
from intonation.engine.workbench import Workbench
from intonation.errors import SettingsError
from intonation.words.consort import meeting_in_words
from intonation.words.work_cautions import cautions_for
from intonation.workshop.consort import ConsortMember, common_pitch

Found = tuple[tuple[int, str], ...]


class ConsortPage(WorkingPage[Found]):
    """Every instrument of the record, and the common pitch of those that play.

    Parameters
    ----------
    bench
        The record that the instruments are in.
    """

    keys = CONSORT
    heading = consort_words.CONSORT
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*CONSORT, *EVERYWHERE))]

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self.bench = bench
        self.names: tuple[str, ...] | None = None
        self.resting: set[str] = set()
        self.at = 0
        self._members: dict[str, ConsortMember | SettingsError] = {}

    def on_mount(self) -> None:
        """Say at which pitch the instruments are taken to have been measured."""
        super().on_mount()
        a4_hz = self.program.settings.a4_hz
        self.query_one("#subtitle", Label).update(f"A4 = {a4_hz:g} Hz")

    def work_out(self, progress: Progress) -> Found:
        """Measure whoever plays, and bring them together."""
        self.names = instruments_on_record(self.bench)
        playing = [name for name in self.names if name not in self.resting]
        for place, name in enumerate(playing):
            if name not in self._members:
                share = partial(_of_all, progress, place, len(playing))
                self._members[name] = _member(self.bench, name, share)
        known = [self._members[name] for name in playing]
        members = [member for member in known if isinstance(member, ConsortMember)]
        refused = [(0, str(error)) for error in known if isinstance(error, SettingsError)]
        if len(members) < 2:
            return (*refused, (0, consort_words.TWO_AT_LEAST))
        meeting = common_pitch(members, a4_hz=self.program.settings.a4_hz)
        return (*refused, *meeting_in_words(members, meeting))

    def printed(self, width: int) -> Content:
        """Return the instruments, and what brings them together."""
        if self.names is None or self.complaint is not None:
            return wrapped([self.state_in_words], width=width)
        if not self.names:
            return wrapped([consort_words.NO_ONE], width=width)
        listed = [line for place in range(len(self.names)) for line in self._line(place, width)]
        told = (f"{' ' * indent}{text}" for indent, text in self.found or ())
        about = (
            consort_words.counted_from(self.program.settings.a4_hz),
            consort_words.BELIEVE_YOUR_EARS,
            *cautions_for([PULL]),
        )
        return Content("\n").join(
            [
                *listed,
                Content(""),
                wrapped(told if self.found else [self.state_in_words], width=width, ink=STRONG),
                Content(""),
                wrapped(about, width=width, ink=SOFT),
            ]
        )

    def _line(self, place: int, width: int) -> list[Content]:
        assert self.names is not None
        name = self.names[place]
        does = consort_words.RESTING if name in self.resting else consort_words.PLAYING
        return marked_lines(f"{name}: {does}", marked=place == self.at, width=width)

    def action_move(self, lines: int) -> None:
        """Mark another instrument."""
        if self.names:
            self.at = (self.at + lines) % len(self.names)
            self.print_all()

    def action_choose(self) -> None:
        """Let the marked instrument play, or rest."""
        if self.names:
            self.resting ^= {self.names[self.at]}
            self.begin()


def _of_all(progress: Progress, place: int, count: int, share: float) -> None:
    progress((place + share) / count)


def _member(bench: Workbench, name: str, progress: Progress) -> ConsortMember | SettingsError:
    """Return an instrument as one of the consort, or why it cannot be."""
    try:
        return consort_member(bench, name, progress=progress)
    except SettingsError as error:
        return error
