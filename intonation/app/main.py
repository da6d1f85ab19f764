"""Opens the interface, drawn or in lines, and leaves nothing unwritten behind."""

from __future__ import annotations

import gc
import os
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

from intonation.app import words
from intonation.app.choices_at_start import (
    choices_at_start,
    nothing_was_chosen,
    own_keys_at_start,
    write_choices,
)
from intonation.app.joining import Record, joined
from intonation.engine.messages import SoundSettings
from intonation.errors import IntonationError, SetupError
from intonation.practice.in_hand import taken_in_hand

if TYPE_CHECKING:
    from intonation.app.surroundings import Surroundings
    from intonation.instruments.own_instrument import OwnInstrument
    from intonation.practice.settings import PracticeSettings
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
    in_hand: OwnInstrument | None = None,
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
    in_hand
        The instrument to begin with; None takes the last one.

    Raises
    ------
    SetupError
        If there is no terminal to draw on.
    """
    from intonation.app.choices_remembered import sound_of

    if not plain and not _can_draw():
        raise SetupError(*words.NO_TERMINAL)
    troubles: dict[str, str] = {}
    choices = choices_at_start(troubles, practice=practice, remember=remember)
    if in_hand is not None:
        choices = replace(choices, practice=taken_in_hand(choices.practice, in_hand))
    record = Record(store)
    surroundings = joined(record, remember=write_choices if remember else _forget)
    opened = _plain if plain else _drawn
    sound = sound_of(choices, asked=sound or SoundSettings())
    try:
        return opened(surroundings, choices, sound, troubles)
    finally:
        _leave(record)


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
    # what is imported stays: to look through it for waste takes a tenth of the start
    gc.disable()
    from intonation.app.application import IntonationApp

    app = IntonationApp(
        surroundings,
        settings=choices.practice,
        sound=sound,
        theme=choices.theme,
        ear=choices.ear,
        own_keys=own_keys_at_start(troubles),
        troubles=troubles,
        first_time=surroundings.remember is write_choices and nothing_was_chosen(),
    )
    try:
        app.run()
    finally:
        gc.enable()
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

    if complaint := surroundings.open_record and surroundings.open_record():
        troubles["record file"] = complaint
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


def _forget(_: RememberedSettings) -> None:
    """Remember nothing."""


def _leave(record: Record) -> None:
    """Try once more to write what was refused, and say what is lost if that fails."""
    recorder = record.recorder
    try:
        recorder.write_rest()
        recorder.end_take()
    except IntonationError as error:
        print(words.notes_lost(recorder.unwritten), error, file=sys.stderr)
    record.store.close()
