"""The verdict page: whose each note's deviation is, how sure that is, and what would settle it."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal

import numpy as np
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import check_words
from intonation.app.background import Progress
from intonation.app.check_keys import VERDICT
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.verdict import (
    axis_of,
    chart_axes,
    chart_heading,
    chart_rows,
    numbers,
    numbers_heading,
    whole,
)
from intonation.app.printing.workshop import wrapped
from intonation.app.screens.working import WorkingPage
from intonation.diagnosis.check import measure_again
from intonation.diagnosis.results import Experiment
from intonation.engine.check_bench import Judged
from intonation.errors import IntonationError
from intonation.practice.checking import CheckSettings
from intonation.words.check import TOO_FEW, minutes_in_words, note_in_words, whole_verdict_in_words
from intonation.words.diagnosis import MODEL_ESTIMATE, NOT_KNOWABLE

if TYPE_CHECKING:
    from intonation.app.check_desk import CheckDesk

View = Literal["chart", "numbers", "whole"]


class VerdictPage(WorkingPage[Judged]):
    """What the checks on file say about one player on one instrument.

    Parameters
    ----------
    desk
        What the check asks of the program.
    settings
        The pair.
    """

    keys = VERDICT
    heading = check_words.VERDICT
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*VERDICT, *EVERYWHERE))]

    def __init__(self, desk: CheckDesk, settings: CheckSettings) -> None:
        super().__init__()
        self.desk = desk
        self.settings = settings
        self.view: View = "chart"
        self.at = 0

    def body(self) -> ComposeResult:
        """Lay out the summary, the chart with its axes, and the marked note in full."""
        yield Static(id="verdict-said", markup=False)
        yield Static(id="verdict-heading", markup=False)
        with VerticalScroll(id="workshop-list"):
            yield Static(id="workshop-rows", markup=False)
        yield Static(id="verdict-axes", markup=False)
        yield Static(id="verdict-note", markup=False)

    def on_mount(self) -> None:
        """Say whose notes are judged."""
        super().on_mount()
        whose = f"{self.settings.player} · {self.settings.instrument}"
        self.query_one("#subtitle", Label).update(Content(whose))

    def begin(self) -> None:
        """Judge anew, and then mark the note that is off most."""
        self.at = -1
        super().begin()

    def work_out(self, progress: Progress) -> Judged | None:
        """Judge the pair by everything on file."""
        return self.desk.bench.judge(
            self.settings.player, self.settings.instrument, progress=progress
        )

    @property
    def state_in_words(self) -> str:
        """What stands on the page while there is no verdict."""
        if self.share is None:
            return self.complaint or TOO_FEW
        return f"{self.naming(check_words.WORKING_OUT)} {100 * self.share:.0f} %"

    def print_all(self) -> None:
        """Print the page."""
        if not self.is_mounted:
            return
        if self.found is not None and self.at < 0:
            totals = [abs(note.total.mean) for note in self.found.pair.notes]
            self.at = totals.index(max(totals))
        for name in ("#verdict-heading", "#verdict-axes", "#verdict-note"):
            self.query_one(name).display = self.view != "whole"
        self._print_said()
        super().print_all()
        if self.found is not None:
            rows = None if self.view == "whole" else len(self.found.pair.notes)
            self.query_one("#workshop-list").styles.max_height = rows
            self._print_around(self.found)
            # the list is laid out anew first: what lies around it has come or gone
            self.once_drawn(lambda: self.once_drawn(self._keep_in_sight))

    def printed(self, width: int) -> Content:
        """Return the rows of the view."""
        if self.found is None:
            return Content("")
        pair = self.found.pair
        if self.view == "whole":
            also = (*self.found.also, MODEL_ESTIMATE, NOT_KNOWABLE)
            return whole(pair, also, width=width)
        if self.view == "numbers":
            return numbers(pair, marked=self.at)
        return chart_rows(pair, axis_of(pair, width=self.print_width), marked=self.at)

    def action_move(self, lines: int) -> None:
        """Mark another note, or scroll where none is marked."""
        if self.found is None or self.view == "whole":
            self.action_scroll(lines)
            return
        self.at = min(max(self.at + lines, 0), len(self.found.pair.notes) - 1)
        self.print_all()

    def action_numbers(self) -> None:
        """Show the numbers, or the chart again."""
        self._show("chart" if self.view == "numbers" else "numbers")

    def action_whole(self) -> None:
        """Show the instrument as a whole, or the chart again."""
        self._show("chart" if self.view == "whole" else "whole")

    def action_again(self) -> None:
        """Measure again what that would settle best."""
        if self.found is None or not self.found.again:
            return
        order = np.random.default_rng(self.desk.seed())
        try:
            guided = self.desk.bench.begin_again(self.settings, self.found.again, order)
        except IntonationError as error:
            self.complaint = str(error)
            self._print_said()
            return
        self.desk.start(guided)

    def action_workshop(self) -> None:
        """Leave the check and go on in the workshop."""
        self.program.leave_pages()
        self.program.action_open("workshop")

    def action_compare(self) -> None:
        """Compare sittings."""
        self.desk.compare(self.settings)

    def _show(self, view: View) -> None:
        self.view = view
        self.query_one("#workshop-list", VerticalScroll).scroll_home(animate=False)
        self.print_all()

    def _print_said(self) -> None:
        place, width = self.query_one("#verdict-said", Static), self.print_width
        if self.found is None or self.complaint:
            place.update(wrapped([self.complaint or self.state_in_words], width=width))
            return
        lines = [wrapped([whole_verdict_in_words(self.found.pair)], width=width, ink=STRONG)]
        following = f"{again_in_words(self.found.again)} {check_words.TO_THE_WORKSHOP}"
        lines.append(wrapped([self.naming(following)], width=width, ink=SOFT))
        place.update(Content("\n").join(lines))

    def _print_around(self, found: Judged) -> None:
        axis, heading = axis_of(found.pair, width=self.print_width), numbers_heading(found.pair)
        under = wrapped([check_words.NUMBERS_HEADING], width=self.print_width, ink=SOFT)
        if self.view == "chart":
            heading, under = chart_heading(axis), chart_axes(axis)
        self.query_one("#verdict-heading", Static).update(heading)
        self.query_one("#verdict-axes", Static).update(under)
        sentences = note_in_words(found.pair.notes[self.at])
        self.query_one("#verdict-note", Static).update(wrapped(sentences, width=self.print_width))

    def _keep_in_sight(self) -> None:
        if self.found is None or self.view == "whole":
            return
        listed = self.query_one("#workshop-list", VerticalScroll)
        listed.scroll_to(y=self.at - listed.size.height // 2, animate=False)


def again_in_words(experiments: dict[int, Experiment]) -> str:
    """Return what measuring again would take."""
    if not experiments:
        return check_words.NOTHING_OPEN
    check = measure_again(experiments, np.random.default_rng(0))
    minutes = minutes_in_words(check.minutes_left)
    return check_words.measure_again(len(experiments), minutes)
