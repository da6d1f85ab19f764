"""What opens each page that a key leads to; a page is imported when it is first opened."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from intonation.app.application import IntonationApp


def _today(program: IntonationApp) -> None:
    from intonation.app.screens.today import TodayPage

    program.push_screen(TodayPage())


def _exercises(program: IntonationApp) -> None:
    program.takes.show_exercises()


def _habits(program: IntonationApp) -> None:
    from intonation.app.screens.habits import HabitsPage

    program.push_screen(HabitsPage(program.surroundings.habits))


def _ear(program: IntonationApp) -> None:
    from intonation.app.screens.ear import EarPage

    program.push_screen(EarPage())


def _temperaments(program: IntonationApp) -> None:
    from intonation.app.screens.temperaments import TemperamentsPage

    program.push_screen(TemperamentsPage())


def _fingerings(program: IntonationApp) -> None:
    from intonation.app.screens.fingerings import FingeringsPage

    program.push_screen(FingeringsPage())


def _check(program: IntonationApp) -> None:
    program.open_check()


def _workshop(program: IntonationApp) -> None:
    from intonation.app.screens.workshop import WorkshopPage

    opened = program.surroundings.workbench
    program.push_screen(WorkshopPage(opened() if opened else None))


def _traces(program: IntonationApp) -> None:
    from intonation.app.screens.traces import TracesPage

    opened = program.surroundings.traces
    traces = opened() if opened else None
    program.push_screen(TracesPage(traces, player=program.settings.player))


def _players(program: IntonationApp) -> None:
    from intonation.app.screens.players import PlayersPage

    opened = program.surroundings.players
    program.push_screen(PlayersPage(opened() if opened else None))


def _instruments(program: IntonationApp) -> None:
    from intonation.app.screens.instruments import InstrumentsPage

    program.push_screen(InstrumentsPage())


def _sound(program: IntonationApp) -> None:
    from intonation.app.screens.sound import SoundPage

    program.push_screen(SoundPage())


def _set_up(program: IntonationApp) -> None:
    from intonation.app.screens.first_run import FirstRunPage

    program.push_screen(FirstRunPage())


def _contents(program: IntonationApp) -> None:
    from intonation.app.screens.contents import ContentsPage

    program.push_screen(ContentsPage())


OPENERS: dict[str, Callable[[IntonationApp], None]] = {
    "today": _today,
    "exercises": _exercises,
    "habits": _habits,
    "ear": _ear,
    "temperaments": _temperaments,
    "fingerings": _fingerings,
    "check": _check,
    "workshop": _workshop,
    "traces": _traces,
    "instruments": _instruments,
    "players": _players,
    "sound": _sound,
    "set_up": _set_up,
    "contents": _contents,
}
"""By the name that stands in the table of keys, as in ``app.open('today')``."""
