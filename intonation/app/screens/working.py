"""A page that works something out in the background, says how far it is, and can be left."""

from __future__ import annotations

from abc import abstractmethod
from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static
from textual.worker import Worker, WorkerState

from intonation.app import workshop_words
from intonation.app.background import HowFar, Progress, progress_to, refusal
from intonation.app.screens.page import Page

Found = TypeVar("Found")
SCROLLBAR = 2
"""Width that a long page leaves to its scroll bar."""


class WorkingPage(Page, Generic[Found]):
    """A subclass says what is worked out and how it is printed."""

    found: Found | None = None
    complaint: str | None = None
    share: float | None = None
    AUTO_FOCUS: ClassVar[str] = ""

    @abstractmethod
    def work_out(self, progress: Progress) -> Found | None:
        """Return the result; called in a thread. ``progress`` raises when the page was left."""

    @abstractmethod
    def printed(self, width: int) -> Content:
        """Return the page's text with what is found so far."""

    def body(self) -> ComposeResult:
        """Lay out one long text."""
        with VerticalScroll(id="workshop-list"):
            yield Static(id="workshop-rows", markup=False)
        yield Static(id="next", markup=False)

    def on_mount(self) -> None:
        """Begin to work."""
        super().on_mount()
        self.begin()

    def begin(self) -> None:
        """Work out the result anew."""
        self.found, self.complaint, self.share = None, None, 0.0
        self.run_worker(self._work, thread=True, exclusive=True, exit_on_error=False)

    def _work(self) -> Found | None:
        return self.work_out(progress_to(self))

    @on(HowFar)
    def show_share(self, how_far: HowFar) -> None:
        """Print how far the work is."""
        if self.share is not None:
            self.share = how_far.share
            self.print_all()

    @on(Worker.StateChanged)
    def take_result(self, changed: Worker.StateChanged) -> None:
        """Print the result, or what stood in its way."""
        if changed.state is WorkerState.SUCCESS:
            self.found = changed.worker.result
        elif changed.state is WorkerState.ERROR:
            refused = refusal(changed.worker)
            if refused is None:
                return
            self.complaint = str(refused)
        else:
            return
        self.share = None
        self.print_all()

    @property
    def state_in_words(self) -> str:
        """What stands on the page while there is no result."""
        if self.share is None:
            return self.complaint or ""
        return f"{self.naming(workshop_words.EXAMINING)} {100 * self.share:.0f} %"

    def print_all(self) -> None:
        """Print the page."""
        if self.is_mounted:
            self.query_one("#workshop-rows", Static).update(
                self.printed(self.print_width - SCROLLBAR)
            )
            self.say_next(self.next_in_words())

    def say_next(self, sentence: str) -> None:
        """Print what comes next beneath the page; no room is taken where nothing does."""
        for place in self.query("#next").results(Static):
            place.display = bool(sentence)
            place.update(self.naming(sentence))

    def next_in_words(self) -> str:
        """Return what the player may do next, with its key; empty where nothing follows."""
        return ""

    def action_scroll(self, lines: int) -> None:
        """Go up or down a long page."""
        self.query_one("#workshop-list", VerticalScroll).scroll_relative(y=lines, animate=False)

    def action_back(self) -> None:
        """Go back."""
        self.workers.cancel_node(self)
        self.dismiss()
