"""The habits page: where each note of the instrument usually lies, as a picture or as numbers."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static
from textual.worker import Worker, WorkerState

from intonation.app import habit_words, print_words
from intonation.app.background import progress_to, refusal
from intonation.app.habit_keys import HABITS
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.habits import (
    note_in_brief,
    number_rows,
    numbers_axis,
    numbers_heading,
    overall,
    sentences,
)
from intonation.app.printing.inks import SOFT, STRONG
from intonation.app.printing.range_chart import range_chart
from intonation.app.screens.habit_note import HabitNotePage
from intonation.app.screens.page import Page
from intonation.diagnosis.results import NoteDiagnosis
from intonation.engine.habit_record import HabitRecord
from intonation.errors import IntonationError
from intonation.habits.habit import Habits
from intonation.practice.settings import PracticeSettings
from intonation.words.habits import NO_HABITS, away_in_words, span_in_words

OpenHabits = Callable[[], HabitRecord]

_MARGIN = 1
_MOST_SAID, _MOST_SAID_ROOMY = 2, 4
ROOMY = 30
"""From this height on there is room for the legend."""


class HabitsPage(Page):
    """Every note of the player's instrument.

    Parameters
    ----------
    opened
        Opens what the record tells; None without a practice record.
    """

    keys = HABITS
    heading = habit_words.HABITS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*HABITS, *EVERYWHERE))]

    def __init__(self, opened: OpenHabits | None) -> None:
        super().__init__()
        self.record = opened() if opened is not None else None
        self.habits: Habits | None = None
        self.owners: dict[int, NoteDiagnosis] | None = None
        self.complaint = ""
        self.as_numbers = False
        self.at = 0

    def body(self) -> ComposeResult:
        """Lay out what all notes have in common, the picture or table, and the marked note."""
        yield Static(id="habit-overall", markup=False)
        with VerticalScroll(id="habit-list"):
            yield Static(id="habit-rows", markup=False)
        yield Static(id="habit-foot", markup=False)

    def on_mount(self) -> None:
        """Say whose habits these are, and look through the record."""
        super().on_mount()
        settings = self.program.settings
        self.notes = tuple(settings.recorder.notes_midi)
        self.marked = self.notes[len(self.notes) // 2]
        if self.record is None:
            self.complaint = habit_words.NO_RECORD
            return
        record = self.record
        self._work(lambda: record.habits(settings.player, settings.instrument))

    def _work(self, what: Callable[[], object]) -> None:
        self.run_worker(what, thread=True, exclusive=True, exit_on_error=False)

    @on(Worker.StateChanged)
    def take_result(self, changed: Worker.StateChanged) -> None:
        """Print the habits, then what the checks say of them, or what stood in the way."""
        result = changed.worker.result
        if changed.state is WorkerState.SUCCESS and isinstance(result, Habits):
            self._take_habits(result)
        elif changed.state is WorkerState.SUCCESS:
            self.owners = result if isinstance(result, dict) else {}
            self._tell_note_page()
            self.print_all()
        elif changed.state is WorkerState.ERROR:
            self._take_refusal(refusal(changed.worker))

    def _take_refusal(self, refused: IntonationError | None) -> None:
        if refused is not None:
            self.complaint = str(refused)
            self.print_all()

    def _take_habits(self, habits: Habits) -> None:
        self.habits = habits
        self.notes = tuple(sorted({*self.notes, *(note.midi for note in habits.notes)}))
        # the note that is furthest off is what one wants to see first
        off = {note.midi: abs(note.usual.mean) for note in habits.notes if note.usual}
        self.marked = max(off, key=off.__getitem__, default=self.marked)
        self.print_all()
        if self.record is not None:
            self._work(partial(self._owners, self.record, self.program.settings))

    def _owners(self, record: HabitRecord, settings: PracticeSettings) -> dict[int, NoteDiagnosis]:
        """Return whose each note's deviation is; called in a thread."""
        return record.owners(settings.player, settings.instrument, progress=progress_to(self))

    def _tell_note_page(self) -> None:
        for page in self.app.screen_stack:
            if isinstance(page, HabitNotePage):
                page.take_owners(self.owners or {})

    def print_all(self) -> None:
        """Print the page."""
        if not self.is_mounted:
            return
        self.query_one("#subtitle", Label).update(self._whose_and_when())
        parts = self._in_parts()
        for name, part in zip(("overall", "rows", "foot"), parts, strict=True):
            self.query_one(f"#habit-{name}", Static).update(part)
        if self.as_numbers:
            self.once_drawn(self._keep_in_sight)

    def _whose_and_when(self) -> Content:
        """Return whose habits these are and, where there is room, what they are worked out from."""
        settings = self.program.settings
        told = [settings.player, settings.instrument]
        if self.habits is not None and self.habits.notes and self.size.width >= 100:
            told.append(span_in_words(self.habits))
        return Content(" · ".join(told))

    def _in_parts(self) -> tuple[Content, Content, Content]:
        """Return what stands above the notes, the notes, and what stands below them."""
        habits, width = self.habits, self.print_width
        if habits is None or not habits.notes:
            text = self.complaint or (habit_words.LOOKING if habits is None else NO_HABITS)
            said = Content("\n").join(sentences([text], width=width, ink=STRONG))
            return said, Content(""), Content("")
        if self.as_numbers:
            rows = number_rows(habits.notes, marked=self.marked, width=width)
            return numbers_heading(width=width), rows, numbers_axis(width=width)
        above, below = self._above(habits), self._below(habits)
        return above, self._chart(habits, above, below), below

    @property
    def is_roomy(self) -> bool:
        """Whether there is room for a legend and for blank lines."""
        return self.size.height >= ROOMY

    def _above(self, habits: Habits) -> Content:
        most = _MOST_SAID_ROOMY if self.is_roomy else _MOST_SAID
        told = sentences(self._away(habits), width=self.print_width, ink=SOFT)
        text = Content("\n").join([*told, overall(habits, most=most, width=self.print_width)])
        return Content.assemble(text, "\n") if self.is_roomy else text

    def _away(self, habits: Habits) -> tuple[str, ...]:
        if self.record is None:
            return ()
        return away_in_words(habits, today=self.record.now().date())

    def _below(self, habits: Habits) -> Content:
        found, width = habits.of(self.marked), self.print_width
        owner = (self.owners or {}).get(self.marked)
        brief = note_in_brief(found, self.marked, owner=owner, full=self.is_roomy, width=width)
        if not self.is_roomy:
            return brief
        legend = [habit_words.LEGEND, *([habit_words.WHOSE_LEGEND] if self.owners else [])]
        return Content.assemble(("\n".join(legend), SOFT), "\n\n", brief)

    def _chart(self, habits: Habits, above: Content, below: Content) -> Content:
        taken = sum(text.plain.count("\n") + 1 for text in (above, below)) + _MARGIN
        return range_chart(
            habits.notes,
            notes=self.notes,
            marked=self.marked,
            width=self.print_width,
            room=self.query_one("#body").content_size.height - taken,
            whose=self._whose_letters(),
        )

    def _whose_letters(self) -> dict[int, str] | None:
        if not self.owners or not self.is_roomy:
            return None
        letters = habit_words.WHOSE_LETTERS
        return {midi: letters[note.verdict] for midi, note in self.owners.items()}

    def _keep_in_sight(self) -> None:
        assert self.habits is not None
        listed = self.query_one("#habit-list", VerticalScroll)
        shown = [note.midi for note in self.habits.notes]
        row = shown.index(self.marked) if self.marked in shown else 0
        listed.scroll_to(y=row - listed.size.height // 2, animate=False)

    def action_move(self, steps: int) -> None:
        """Mark another note."""
        habits = self.habits
        notes = [note.midi for note in habits.notes] if habits and self.as_numbers else self.notes
        here = min(range(len(notes)), key=lambda place: abs(notes[place] - self.marked))
        self.marked = notes[min(max(here + steps, 0), len(notes) - 1)]
        self.print_all()

    def action_numbers(self) -> None:
        """Show numbers in place of the picture, or the picture again."""
        self.as_numbers = not self.as_numbers
        self.query_one("#habit-list", VerticalScroll).scroll_to(y=0, animate=False)
        self.print_all()

    def action_closer(self) -> None:
        """See the marked note in full."""
        if self.habits is not None and self.habits.of(self.marked) is not None:
            self.app.push_screen(HabitNotePage(self.habits, self.marked, self.owners))

    def action_print_report(self) -> None:
        """Write the player's report over time."""
        from intonation.app.screens.printing_out import print_out
        from intonation.report.pages.player_page import player_page

        player = self.program.settings.player
        print_out(
            self.program,
            print_words.PLAYER_REPORT,
            "report-player.html",
            lambda reporting: player_page(reporting.player(player)),
        )

    def action_back(self) -> None:
        """Go back."""
        self.workers.cancel_node(self)
        self.dismiss()
