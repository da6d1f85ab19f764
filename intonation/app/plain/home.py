"""Where the plain interface begins, and comes back to."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable

from intonation.app import words as app_words
from intonation.app.instrument_words import YOURS
from intonation.app.plain import words
from intonation.app.plain.choosing import choose
from intonation.app.plain.stand import Leave, PlainStand, not_understood
from intonation.app.plain.take import play_take
from intonation.app.practice_choices import practice_choices
from intonation.words.cautions import LONG_TONES


def run_plain(stand: PlainStand, *, troubles: Iterable[str] = ()) -> int:
    """Say and ask until the player leaves; return the exit code."""
    stand.say(words.WELCOME, *(f"! {trouble}" for trouble in troubles))
    with contextlib.suppress(Leave):
        _home(stand)
    stand.link.close()
    stand.say(words.GOODBYE)
    return 0


def _home(stand: PlainStand) -> None:
    stand.say(*words.HOME, LONG_TONES)
    while True:
        stand.say(f"{stand.settings.player}: {app_words.tuned_to(stand.settings)}.")
        typed = stand.asked().lower()
        if typed == "q":
            return
        if typed in _LETTERS:
            _LETTERS[typed](stand)
        elif typed in ("", "?"):
            stand.say(*words.HOME)
        else:
            not_understood(stand)


def _choices(stand: PlainStand) -> None:
    choose(stand, practice_choices(stand.shelf), stand.settings, stand.choose)


def _instruments(stand: PlainStand) -> None:
    from intonation.app.instrument_choices import instrument_choices

    own = ", ".join(one.name for one in stand.shelf.own(stand.settings))
    if own:
        stand.say(f"{YOURS}: {own}.")
    choose(stand, instrument_choices(stand.shelf), stand.settings, stand.choose)


def _exercises(stand: PlainStand) -> None:
    from intonation.app.plain.exercises import exercises

    exercises(stand)


def _today(stand: PlainStand) -> None:
    from intonation.app.plain.today import practise_today

    practise_today(stand)


def _check(stand: PlainStand) -> None:
    from intonation.app.plain.check import check_instrument

    check_instrument(stand)


def _ear(stand: PlainStand) -> None:
    from intonation.app.plain.ear import train_ear

    train_ear(stand)


def _devices(stand: PlainStand) -> None:
    from intonation.app.devices_found import search_devices
    from intonation.app.sound_choices import sound_choices

    stand.say(words.SEARCHING)
    choose(stand, sound_choices(search_devices()), stand.sound, stand.choose_sound)


_LETTERS: dict[str, Callable[[PlainStand], object]] = {
    "s": play_take,
    "y": _today,
    "e": _exercises,
    "l": _ear,
    "k": _check,
    "c": _choices,
    "i": _instruments,
    "d": _devices,
}
