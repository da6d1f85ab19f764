"""What the interface needs from outside: sound engine, memory and record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.store.places import own_exercises_folder

if TYPE_CHECKING:
    from intonation.app.background import Progress
    from intonation.app.ear_record import OpenAnswers
    from intonation.app.screens.habits import OpenHabits
    from intonation.app.sound_link import Connect
    from intonation.engine.check_bench import CheckBench
    from intonation.engine.instrument_desk import InstrumentDesk
    from intonation.engine.messages import PhraseScored
    from intonation.engine.players import PlayersDesk
    from intonation.engine.reporting import Reporting
    from intonation.engine.workbench import Workbench
    from intonation.practice.events import NoteScored
    from intonation.practice.settings import PracticeSettings
    from intonation.store.settings import RememberedSettings
    from intonation.store.traces import Traces
    from intonation.synth.soundfont_check import FontReport
    from intonation.synth.sounds import PlayersFont


def measured_apart(font: PlayersFont, progress: Progress) -> FontReport:
    """Return how well a SoundFont is in tune, measured in a process of its own."""
    from intonation.engine.font_check import measured_font

    return measured_font(font, progress=progress)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What the program needs from outside the screen; each raises an IntonationError that is shown.

    Parameters
    ----------
    connect
        Starts the sound engine.
    remember
        Keeps the player's choices for the next sitting.
    open_record
        Opens the practice record, and returns what is wrong with it, if anything is; may be called
        on any thread. None where there is nothing to open.
    begin_take, keep, end_take
        Told of a new take, of every scored note or phrase before it is shown, and of the take's
        end.
    workbench
        Opens what the workshop works from; None without a practice record.
    exercises_folder
        Where the player's own exercises lie.
    ear_answers
        Opens the record of the ear drills; None forgets them when the program ends.
    traces
        Opens the takes that can be looked back at; None without a practice record.
    players
        Opens the record of all players; None without one.
    checks
        Opens what instrument checks are kept in; None without a practice record.
    habits
        Opens what the record tells of the player; None without a practice record.
    instruments
        Opens the player's instruments; None forgets them when the program ends.
    reporting
        Opens what reports are made from; None without a practice record.
    measure_font
        Measures a player's SoundFont, and tells its progress.
    """

    connect: Connect
    remember: Callable[[RememberedSettings], None]
    begin_take: Callable[[PracticeSettings], None]
    keep: Callable[[NoteScored | PhraseScored], None]
    end_take: Callable[[], None]
    exercises_folder: Path = field(default_factory=own_exercises_folder)
    ear_answers: OpenAnswers | None = None
    workbench: Callable[[], Workbench] | None = None
    open_record: Callable[[], str | None] | None = None
    traces: Callable[[], Traces] | None = None
    players: Callable[[], PlayersDesk] | None = None
    checks: Callable[[], CheckBench] | None = None
    habits: OpenHabits | None = None
    instruments: Callable[[], InstrumentDesk] | None = None
    reporting: Callable[[], Reporting] | None = None
    measure_font: Callable[[PlayersFont, Progress], FontReport] = measured_apart
