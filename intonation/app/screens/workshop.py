"""The workshop page: what is wrong with the instrument, and what could be tried."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import print_words, workshop_words
from intonation.app.background import Progress
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.workshop import examination, row_of_mark, wrapped
from intonation.app.screens.prediction import PredictionPage
from intonation.app.screens.trials import TrialsPage
from intonation.app.screens.working import SCROLLBAR, WorkingPage
from intonation.app.widgets.typed_value import TypedValue
from intonation.app.workshop_keys import WORKSHOP
from intonation.engine.workbench import Workbench
from intonation.errors import IntonationError, StoreError
from intonation.words.workshop import TOO_FEW_NOTES
from intonation.workshop.examining import Examination

if TYPE_CHECKING:
    from intonation.report.pages.parts import WrittenReport


class WorkshopPage(WorkingPage[Examination]):
    """From the player's notes to work that could be tried.

    Parameters
    ----------
    bench
        What to work from; None without a practice record.
    """

    keys = WORKSHOP
    heading = workshop_words.WORKSHOP
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*WORKSHOP, *EVERYWHERE))]

    def __init__(self, bench: Workbench | None) -> None:
        super().__init__()
        self.bench = bench
        self.at = 0
        self.standing = False
        self.stale = False

    def body(self) -> ComposeResult:
        """Lay out the text, and the line for the name of a file."""
        yield from super().body()
        yield TypedValue(id="typed", placeholder=workshop_words.NAME_DIMENSIONS)
        yield Static(id="mistake", markup=False)

    def on_mount(self) -> None:
        """Say whose notes are looked at."""
        super().on_mount()
        self._stop_typing()

    def begin(self) -> None:
        """Work it out anew, with the dimensions that count now."""
        settings = self.program.settings
        whose = [settings.player, settings.instrument]
        if self.bench is not None and self.bench.own_file(settings.instrument) is not None:
            whose.append(workshop_words.OWN_DIMENSIONS)
        self.query_one("#subtitle", Label).update(Content(" · ".join(whose)))
        super().begin()

    def work_out(self, progress: Progress) -> Examination | None:
        """Examine the player's instrument."""
        if self.bench is None:
            raise StoreError(workshop_words.NO_RECORD, "")
        settings = self.program.settings
        pair = settings.player, settings.instrument
        self.standing = bool(self.bench.standing_work(*pair))
        return self.bench.examine(*pair, progress=progress)

    def printed(self, width: int) -> Content:
        """Return causes and work, or how far they are."""
        if self.found is not None:
            learning = workshop_words.LEARNING if self.program.sound.two_faults else ""
            return examination(self.found, marked=self.at, width=width, also=learning)
        if self.state_in_words:
            return wrapped([self.state_in_words], width=width)
        two_faults = self.program.sound.two_faults
        how = workshop_words.LEARNING if two_faults else workshop_words.LEARN
        return wrapped([TOO_FEW_NOTES, "", how], width=width)

    def next_in_words(self) -> str:
        """Return what leads on from here."""
        if self.share is not None or self.complaint or self.bench is None:
            return ""
        if self.found is None:
            after_work = workshop_words.NEXT_CHECK_AFTER_WORK
            return after_work if self.standing else workshop_words.NEXT_CHECK
        if self.standing:
            return workshop_words.NEXT_PROOF
        return workshop_words.NEXT_MARK if self.found.works else workshop_words.NEXT_SHEET

    def action_move(self, lines: int) -> None:
        """Mark other work; go on down the page where there is none to mark."""
        found = self.found
        if found is None or not found.works:
            self.action_scroll(lines)
            return
        if not 0 <= self.at + lines < len(found.works):
            self.action_scroll(3 * lines)
            return
        self.at += lines
        self.print_all()
        above = row_of_mark(self.printed(self.print_width - SCROLLBAR)) if self.at else 0
        self.query_one("#workshop-list", VerticalScroll).scroll_to(y=above, animate=False)

    def action_predict(self) -> None:
        """See what the marked work would do."""
        if self.bench is not None and self.found is not None and self.found.works:
            page = PredictionPage(self.bench, self.found, self.found.works[self.at])
            self.program.push_screen(page, lambda _: self._predicted(page))

    def _predicted(self, page: PredictionPage) -> None:
        """Go on to the trials after one was made."""
        if page.logged:
            self.action_trials()

    def action_check(self) -> None:
        """Play the instrument check, and work it out anew when that is over."""
        self.stale = True
        self.program.open_check()

    def on_screen_resume(self) -> None:
        """Take in what was played while another page lay on top."""
        if self.stale and self.is_mounted:
            self.stale = False
            self.begin()

    def action_learn(self) -> None:
        """Go to the simulated alto with two faults, or back to the player's own instrument."""
        learning = not self.program.sound.two_faults
        sound = replace(self.program.sound, recording=None, simulated=learning, work=())
        self.program.choose_sound(replace(sound, two_faults=learning))
        self.program.sound_desk.open()
        self.at = 0
        self.begin()

    def action_dimensions(self) -> None:
        """Ask for the file that describes this very instrument."""
        if self.bench is None:
            return
        file = self.bench.own_file(self.program.settings.instrument)
        typed = self.query_one(TypedValue)
        typed.value = "" if file is None else str(file)
        typed.display = True
        typed.focus()

    @on(TypedValue.Submitted)
    def take_dimensions(self, submitted: TypedValue.Submitted) -> None:
        """Use another file from now on, or say what is wrong with it."""
        if self.bench is None:
            return
        name = submitted.value.strip()
        file = Path(name).expanduser() if name else None
        try:
            self.bench.choose_file(self.program.settings.instrument, file)
        except IntonationError as error:
            self.query_one("#mistake", Static).update(str(error))
            return
        self._stop_typing()
        self.begin()

    @on(TypedValue.Left)
    def leave_typed(self) -> None:
        """Keep the dimensions as they are."""
        self._stop_typing()

    def _stop_typing(self) -> None:
        self.query_one(TypedValue).display = False
        self.query_one("#mistake", Static).update("")
        self.set_focus(None)

    def action_sheet(self) -> None:
        """Write the sheet for the maker."""
        from intonation.app.screens.printing_out import PrintPage
        from intonation.engine.sheet import sheet_of
        from intonation.report.maker_sheet import maker_sheet_html
        from intonation.report.pages.parts import WrittenReport

        bench, settings = self.bench, self.program.settings
        if bench is None:
            return

        def made(progress: Progress) -> WrittenReport:
            sheet = sheet_of(bench, settings.player, settings.instrument, progress=progress)
            return WrittenReport(maker_sheet_html(sheet), None)

        self.program.push_screen(PrintPage(print_words.MAKER_SHEET, "maker-sheet.html", made))

    def action_print_report(self) -> None:
        """Write the report of the instrument."""
        from intonation.app.screens.printing_out import print_out
        from intonation.report.pages.instrument_page import instrument_page

        instrument = self.program.settings.instrument
        print_out(
            self.program,
            print_words.INSTRUMENT_REPORT,
            "report-instrument.html",
            lambda reporting: instrument_page(reporting.instrument(instrument)),
        )

    def action_consort(self) -> None:
        """Find the common pitch of several instruments."""
        from intonation.app.screens.consort import ConsortPage

        if self.bench is not None:
            self.program.push_screen(ConsortPage(self.bench))

    def action_trials(self) -> None:
        """See what was tried."""
        if self.bench is not None:
            self.program.push_screen(TrialsPage(self.bench), self._look_again)

    def _look_again(self, _: None) -> None:
        """Work it out anew: a trial may have begun or ended."""
        self.at = 0
        self.begin()
