"""Opens the interface: joins it to the sound engine's process, the record and the settings file."""

from __future__ import annotations

import os
import sys
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.app import words
from intonation.engine.messages import SoundSettings
from intonation.errors import IntonationError, SetupError
from intonation.practice.settings import OWN, PracticeSettings

if TYPE_CHECKING:
    from intonation.app.own_keys import OwnKeys
    from intonation.app.sound_link import Heard
    from intonation.app.surroundings import Surroundings
    from intonation.engine.check_bench import CheckBench
    from intonation.engine.habit_record import HabitRecord
    from intonation.engine.players import PlayersDesk
    from intonation.engine.process import EngineClient
    from intonation.engine.recorder import PracticeRecorder
    from intonation.engine.workbench import Workbench
    from intonation.store.listening_answers import ListeningAnswers
    from intonation.store.settings import RememberedSettings
    from intonation.store.store import Store

_BROWSER_VARIABLE = "TEXTUAL_DRIVER"
"""Set by a server that shows a Textual program in a browser."""


def run_app(
    *,
    sound: SoundSettings | None = None,
    store: Store | None = None,
    practice: PracticeSettings | None = None,
    remember: bool = True,
    plain: bool = False,
) -> int:
    """Open the interface and return its exit code when the player has left it.

    Parameters
    ----------
    sound
        Where sound comes from and goes to; what it leaves open is taken from the last time.
    store
        Where notes are kept; None takes the player's own practice record.
    practice
        What is practised; None takes what was practised the last time.
    remember
        Whether choices are read from and written to the player's settings file.
    plain
        Whether it prints lines and takes lines, instead of drawing.

    Raises
    ------
    SetupError
        If there is no terminal to draw on.
    """
    if not plain and not _can_draw():
        raise SetupError(*words.NO_TERMINAL)
    from intonation.app.choices_remembered import sound_of

    troubles: dict[str, str] = {}
    remembered = _remembered(troubles) if remember else None
    store = store or _player_store(troubles)
    recorder = _recorder(store)
    choices = _choices(remembered, practice, troubles)
    surroundings = _surroundings(recorder, store, remember=remember)
    opened = _plain if plain else _drawn
    chosen = sound_of(choices, asked=sound or SoundSettings())
    try:
        return opened(surroundings, choices, chosen, troubles)
    finally:
        _leave(recorder, store)


def _has_terminal() -> bool:
    return sys.stdin.isatty() and sys.__stderr__ is not None and sys.__stderr__.isatty()


def _can_draw() -> bool:
    """Return whether there is a terminal, or a server that shows the interface in a browser."""
    if _BROWSER_VARIABLE in os.environ:
        return True
    return sys.stdin.isatty() and sys.__stderr__ is not None and sys.__stderr__.isatty()


def _drawn(
    surroundings: Surroundings,
    choices: RememberedSettings,
    sound: SoundSettings,
    troubles: dict[str, str],
) -> int:
    from intonation.app.application import IntonationApp

    app = IntonationApp(
        surroundings,
        settings=choices.practice,
        sound=sound,
        theme=choices.theme,
        ear=choices.ear,
        own_keys=_own_keys(troubles),
        troubles=troubles,
        first_time=surroundings.remember is _write and _nothing_was_chosen(),
    )
    try:
        app.run()
    finally:
        app.sound_desk.link.close()
    return app.return_code or 0


def _plain(
    surroundings: Surroundings,
    choices: RememberedSettings,
    sound: SoundSettings,
    troubles: dict[str, str],
) -> int:
    from intonation.app.plain.home import run_plain
    from intonation.app.plain.inbox import Inbox
    from intonation.app.plain.stand import PlainStand

    inbox = Inbox()
    stand = PlainStand(surroundings, choices, sound=sound, inbox=inbox, say=_say_at_once)
    # a reader of its own: one that waits for sys.stdin keeps the program from ending
    typed = open(sys.stdin.fileno(), encoding="utf-8", errors="replace", closefd=False)  # noqa: SIM115
    inbox.read(typed)
    try:
        return run_plain(stand, troubles=troubles.values())
    finally:
        stand.link.close()


def _say_at_once(line: str) -> None:
    print(line, flush=True)


def _surroundings(recorder: PracticeRecorder, store: Store, *, remember: bool) -> Surroundings:
    from intonation.app.surroundings import Surroundings

    return Surroundings(
        connect=_started_engine,
        remember=_write if remember else _forget,
        begin_take=recorder.begin_take,
        keep=recorder.keep,
        end_take=recorder.end_take,
        workbench=_workbench(store),
        ear_answers=lambda: _ear_answers(store),
        checks=lambda: _checks(store),
        habits=lambda: _habit_record(store),
        traces=store.traces,
        players=lambda: _players(store),
    )


def _choices(
    remembered: RememberedSettings | None,
    practice: PracticeSettings | None,
    troubles: dict[str, str],
) -> RememberedSettings:
    """Return what was chosen the last time, or for this sitting, as far as it can be used."""
    from intonation.store.settings import RememberedSettings

    choices = _with_own_temperament(remembered or RememberedSettings(), troubles)
    choices = _usable(choices, troubles)
    return choices if practice is None else replace(choices, practice=practice)


def _nothing_was_chosen() -> bool:
    from intonation.store.places import settings_path

    return not settings_path().exists()


def _habit_record(store: Store) -> HabitRecord:
    from intonation.engine.habit_record import HabitRecord

    return HabitRecord(store, _now)


def _checks(store: Store) -> CheckBench:
    from intonation.engine.check_bench import CheckBench

    return CheckBench(store, _now)


def _workbench(store: Store) -> Workbench:
    from intonation.engine.workbench import Workbench
    from intonation.store.own_geometries import OwnGeometries
    from intonation.store.places import own_geometries_path

    return Workbench(store, _now, geometries=OwnGeometries(own_geometries_path()))


def _players(store: Store) -> PlayersDesk:
    from intonation.engine.players import PlayersDesk

    return PlayersDesk(store, _now)


def _ear_answers(store: Store) -> ListeningAnswers:
    from intonation.store.listening_answers import ListeningAnswers

    return ListeningAnswers(store.database)


def _usable(choices: RememberedSettings, troubles: dict[str, str]) -> RememberedSettings:
    """Return choices whose voice exists; the settings file cannot know."""
    from intonation.synth.voices import voice_named

    try:
        voice_named(choices.practice.voice)
    except IntonationError as error:
        troubles.setdefault("settings", str(error))
        usual = PracticeSettings().voice
        return replace(choices, practice=replace(choices.practice, voice=usual))
    return choices


def _with_own_temperament(
    choices: RememberedSettings, troubles: dict[str, str]
) -> RememberedSettings:
    """Return choices with the player's own temperament, or the equal one in its place."""
    from intonation.practice.tuning import temperament_of
    from intonation.store.own_files import read_temperament

    practice, file = choices.practice, choices.practice.temperament_file
    try:
        own = read_temperament(Path(file)) if file else None
        practice = replace(practice, own_temperament=own)
        temperament_of(practice)
    except IntonationError as error:
        if practice.temperament == OWN:
            troubles["temperament"] = f"{error} Equal temperament is used."
            practice = replace(practice, temperament="equal")
    return replace(choices, practice=practice)


def _own_keys(troubles: dict[str, str]) -> OwnKeys:
    """Return the player's own keys; the table of all keys is needed only if there are some."""
    from intonation.store.places import own_keys_path

    if not own_keys_path().exists():
        return {}
    from intonation.app.own_keys import read_own_keys

    read = read_own_keys(own_keys_path())
    if read.complaints:
        troubles["keys"] = f"{read.complaints[0]} The usual key counts."
    return read.keys


def _remembered(troubles: dict[str, str]) -> RememberedSettings:
    from intonation.store.places import settings_path
    from intonation.store.settings import read_settings

    read = read_settings(settings_path())
    if read.complaint:
        troubles["settings"] = str(read.complaint)
    return read.settings


def _write(choices: RememberedSettings) -> None:
    from intonation.store.places import settings_path
    from intonation.store.settings import write_settings

    write_settings(settings_path(), choices)


def _forget(_: RememberedSettings) -> None:
    """Remember nothing."""


def _player_store(troubles: dict[str, str]) -> Store:
    from intonation.store.opening import open_store
    from intonation.store.places import record_path

    opened = open_store(record_path())
    if opened.complaint:
        troubles["record file"] = str(opened.complaint)
    return opened.store


def _recorder(store: Store) -> PracticeRecorder:
    from intonation.engine.recorder import PracticeRecorder

    session = _now().strftime("%Y-%m-%d %H:%M:%S")
    return PracticeRecorder(store, session=session, now=_now)


def _now() -> datetime:
    return datetime.now().astimezone()


def _started_engine(sound: SoundSettings, heard: Heard) -> EngineClient:
    from intonation.engine.process import EngineClient
    from intonation.store.places import log_folder

    client = EngineClient(sound, heard, log_path=log_folder() / "sound.log")
    client.start()
    return client


def _leave(recorder: PracticeRecorder, store: Store) -> None:
    """Try once more to write what was refused, and say what is lost if that fails."""
    try:
        recorder.write_rest()
        recorder.end_take()
    except IntonationError as error:
        print(words.notes_lost(recorder.unwritten), error, file=sys.stderr)
    store.close()
