"""The import page: a music file is typed, its melody chosen, and an exercise kept."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option
from textual.worker import Worker, WorkerState

from intonation.app import exercise_words as words
from intonation.app.exercise_keys import IMPORT
from intonation.app.keys import EVERYWHERE, bindings
from intonation.app.screens.page import Page
from intonation.app.widgets.typed_value import TypedValue
from intonation.errors import IntonationError
from intonation.exercise.arranging import arrange, likely_melody
from intonation.exercise.imported_music import ImportedMusic, ImportedPart
from intonation.exercise.pieces import Exercise
from intonation.pitch.notes import note_name
from intonation.store.own_exercises import keep_exercise


class ImportPage(Page):
    """Makes an exercise of the player's own music.

    Parameters
    ----------
    folder
        Where it is kept.
    """

    keys = IMPORT
    heading = words.IMPORT
    BINDINGS: ClassVar[list[BindingType]] = [*bindings((*IMPORT, *EVERYWHERE))]

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self.folder = folder
        self.file = Path()
        self.music: ImportedMusic | None = None
        self.busy = False

    def body(self) -> ComposeResult:
        """Lay out what to do, the line to type into, and the parts that were found."""
        yield Static(f"{words.ABOUT_IMPORT}\n{words.kept(self.folder)}", markup=False)
        yield TypedValue(id="typed", placeholder=words.MUSIC_FILE)
        yield Static(id="mistake", markup=False)
        yield Static(id="import-said", markup=False)
        parts = OptionList(id="parts", compact=True, markup=False)
        parts.can_focus = False
        yield parts

    def on_mount(self) -> None:
        """Begin with the line to type into."""
        super().on_mount()
        self.parts.display = False
        self._say("")
        self._say_mistake("")
        self.query_one(TypedValue).focus()

    @property
    def parts(self) -> OptionList:
        """The parts of the music that was read."""
        return self.query_one("#parts", OptionList)

    @on(TypedValue.Submitted)
    def read(self, submitted: TypedValue.Submitted) -> None:
        """Read the file that was typed, in the background."""
        self.file = Path(submitted.value.strip()).expanduser()
        self.music, self.parts.display = None, False
        self._work(self._read, words.READING)

    def _read(self) -> ImportedMusic:
        from intonation.interchange.music_files import read_music

        return read_music(self.file)

    def _kept(self, music: ImportedMusic, part: int) -> Exercise:
        exercise = arrange(music, name=self.file.stem, melody=part)
        return keep_exercise(exercise, folder=self.folder)

    def _work(self, do: Callable[[], ImportedMusic | Exercise], meanwhile: str) -> None:
        self.busy = True
        self._say_mistake("")
        self._say(meanwhile)
        self.run_worker(do, thread=True, exclusive=True, exit_on_error=False)

    @on(Worker.StateChanged)
    def take_result(self, changed: Worker.StateChanged) -> None:
        """Offer the parts of the music, or the exercise made of it, or say what is wrong."""
        self.busy = changed.state in (WorkerState.PENDING, WorkerState.RUNNING)
        if changed.state is WorkerState.SUCCESS:
            result = changed.worker.result
            if isinstance(result, ImportedMusic):
                self._offer(result)
            elif isinstance(result, Exercise):
                self.program.takes.show_exercises(result)
        elif changed.state is WorkerState.ERROR:
            error = changed.worker.error
            if not isinstance(error, IntonationError):
                raise error or RuntimeError
            self._say("")
            self._say_mistake(str(error))

    def _offer(self, music: ImportedMusic) -> None:
        self.music = music
        if len(music.parts) == 1:
            self.action_take()
            return
        self._say(words.CHOOSE_PART)
        self.parts.clear_options()
        self.parts.add_options(_option(number, part) for number, part in enumerate(music.parts))
        self.parts.highlighted = likely_melody(music)
        self.parts.display = True
        self.set_focus(None)

    def action_move(self, lines: int) -> None:
        """Mark another part."""
        if lines > 0:
            self.parts.action_cursor_down()
        else:
            self.parts.action_cursor_up()

    def action_take(self) -> None:
        """Make an exercise with the marked part as the melody, and show it; else type again."""
        if self.busy:
            return
        if self.music is None:
            self.query_one(TypedValue).focus()
            return
        music, several = self.music, len(self.music.parts) > 1
        marked = (self.parts.highlighted or 0) if several else 0
        self._work(lambda: self._kept(music, marked), words.ARRANGING)

    @on(TypedValue.Left)
    def action_back(self) -> None:
        """Go back to the exercises."""
        self.workers.cancel_node(self)
        self.dismiss()

    def _say(self, sentence: str) -> None:
        place = self.query_one("#import-said", Static)
        place.display = bool(sentence)
        place.update(sentence)

    def _say_mistake(self, sentence: str) -> None:
        place = self.query_one("#mistake", Static)
        place.display = bool(sentence)
        place.update(sentence)


def _option(number: int, part: ImportedPart) -> Option:
    midi = [note.midi for note in part.notes]
    lowest, highest = note_name(min(midi)), note_name(max(midi))
    return Option(Content(words.part(number + 1, part.name, len(midi), lowest, highest)))
