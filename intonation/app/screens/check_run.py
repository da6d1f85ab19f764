"""The page of a check under way: the note to be played, and nothing that moves while it sounds."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Label, Static

from intonation.app import check_words
from intonation.app.check_keys import CHECKING
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.printing.check import asked_note, progress_line
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.app.screens.page import Page
from intonation.diagnosis.check import AskedTone, CheckStep
from intonation.engine.guided_check import GuidedCheck
from intonation.engine.messages import CheckListening, EngineClosed, EngineEvent, ToneHeard
from intonation.words.check import LIGHT_HEADED, TO_DO, pass_in_words, said_in_words

if TYPE_CHECKING:
    from intonation.app.check_desk import CheckDesk


class CheckRunPage(Page):
    """One tone after the other, until every note is played or left out.

    Parameters
    ----------
    desk
        What the check asks of the program.
    guided
        The check.
    """

    keys = CHECKING
    heading = check_words.CHECKING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*CHECKING, *EVERYWHERE))]

    def __init__(self, desk: CheckDesk, guided: GuidedCheck) -> None:
        super().__init__()
        self.desk = desk
        self.guided = guided
        self.paused = False
        self.listening = True
        self.left = False

    def body(self) -> ComposeResult:
        """Lay out the pass, the note, what to do, what became of the last tone, the progress."""
        yield Static(id="pass", markup=False)
        yield Static(id="asked", markup=False)
        yield Static(id="to-do", markup=False)
        yield Static(id="said", markup=False)
        yield Static(id="progress", markup=False)

    def on_mount(self) -> None:
        """Say whose check it is, and listen."""
        super().on_mount()
        settings = self.guided.checking.settings
        whose = f"{settings.player} · {settings.instrument} · A4 = {settings.a4_hz:g} Hz"
        self.query_one("#subtitle", Label).update(Content(whose))
        self.desk.listen(self.guided)

    def on_screen_suspend(self) -> None:
        """Pause while another page lies on top."""
        if not self.left:
            self.paused = True
            self._ask()

    @property
    def asked(self) -> AskedTone | None:
        """The tone that may be played now."""
        silent = self.paused or not self.listening
        return None if silent else self.guided.checking.asked

    def hear(self, event: EngineEvent) -> None:
        """Go on when a tone has ended; the program has kept it already."""
        match event:
            case _ if self.left:
                return
            case CheckListening(listening):
                self.listening = listening
                self._ask()
            case EngineClosed():
                self.listening = False
                self._ask()
            case ToneHeard():
                self._ask()

    def action_go_on(self) -> None:
        """Begin the pass, pause, or go on."""
        if not self.listening:
            self.listening, self.paused = True, False
            self.desk.listen(self.guided)
        elif self.guided.checking.waiting:
            self.guided.go_on()
            self.paused = False
        else:
            self.paused = not self.paused
        self._ask()

    def action_skip(self) -> None:
        """Leave the present note out."""
        if self.guided.checking.asked is not None:
            self.desk.skip(self.guided)
            self._ask()

    def action_stop(self) -> None:
        """Leave off; everything is kept."""
        self._leave()
        self.dismiss()

    def print_all(self) -> None:
        """Print the whole page."""
        if not self.is_mounted:
            return
        checking, asked, step = self.guided.checking, self.asked, self.guided.checking.check.step
        if step is None:
            return
        self.query_one("#pass", Static).update(self._pass(step))
        place = self.query_one("#asked", Static)
        place.display = asked is not None
        if asked is not None:
            place.update(asked_note(checking.instrument, asked.midi))
        self.query_one("#to-do", Static).update(Content.styled(self.naming(self._to_do()), STRONG))
        self.query_one("#said", Static).update(Content.styled(said_in_words(checking), TEXT))
        progress = progress_line(checking, width=self.print_width)
        self.query_one("#progress", Static).update(progress)

    def _pass(self, step: CheckStep) -> Content:
        name, how = pass_in_words(step, self.guided.checking.settings.form)
        passes = 1 + max(each.pass_number for each in self.guided.checking.check.ahead)
        heading = check_words.pass_of(step.pass_number, passes, name)
        lines = [Content.styled(heading, STRONG), Content.styled(how, SOFT)]
        return Content("\n").join(lines)

    def _to_do(self) -> str:
        if not self.listening:
            return check_words.NOT_HEARD
        if self.guided.checking.waiting:
            return f"{check_words.READY} {LIGHT_HEADED}"
        asked = self.asked
        return check_words.PAUSED if asked is None else TO_DO[asked.manner]

    def _ask(self) -> None:
        """Print what is asked for, then listen for it; leave when nothing is left to ask."""
        if self.guided.checking.finished:
            self._finish()
            return
        self.print_all()
        self.desk.ask(self.asked)

    def _finish(self) -> None:
        self._leave()
        self.desk.settled(self.guided)

    def _leave(self) -> None:
        self.left = True
        self.desk.leave(self.guided)
