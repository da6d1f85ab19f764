"""What the program starts with: remembered choices as far as they can be used, and own keys."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from intonation.errors import IntonationError
from intonation.language import say
from intonation.practice.settings import OWN, PracticeSettings

if TYPE_CHECKING:
    from intonation.app.own_keys import OwnKeys
    from intonation.pitch.temperaments import Temperament
    from intonation.store.settings import RememberedSettings


def choices_at_start(
    troubles: dict[str, str], *, practice: PracticeSettings | None, remember: bool
) -> RememberedSettings:
    """Return what was chosen the last time, or for this sitting, as far as it can be used."""
    from intonation.store.settings import RememberedSettings

    choices = _remembered(troubles) if remember else RememberedSettings()
    choices = _with_voice(_with_own_temperament(choices, troubles), troubles)
    return choices if practice is None else replace(choices, practice=practice)


def own_keys_at_start(troubles: dict[str, str]) -> OwnKeys:
    """Return the player's own keys; the table of all keys is needed only if there are some."""
    from intonation.store.places import own_keys_path

    if not own_keys_path().exists():
        return {}
    from intonation.app.own_keys import read_own_keys

    read = read_own_keys(own_keys_path())
    if read.complaints:
        troubles["keys"] = say("{complaints} The usual key counts.", complaints=read.complaints[0])
    return read.keys


def nothing_was_chosen() -> bool:
    """Return whether the player has not chosen anything yet."""
    from intonation.store.places import settings_path

    return not settings_path().exists()


def write_choices(choices: RememberedSettings) -> None:
    """Keep choices for the next sitting."""
    from intonation.store.places import settings_path
    from intonation.store.settings import write_settings

    write_settings(settings_path(), choices)


def _remembered(troubles: dict[str, str]) -> RememberedSettings:
    from intonation.store.places import settings_path
    from intonation.store.settings import read_settings

    read = read_settings(settings_path())
    if read.complaint:
        troubles["settings"] = str(read.complaint)
    return read.settings


def _with_voice(choices: RememberedSettings, troubles: dict[str, str]) -> RememberedSettings:
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

    practice, file = choices.practice, choices.practice.temperament_file
    try:
        own = _own_temperament(file) if file else None
        practice = replace(practice, own_temperament=own)
        temperament_of(practice)
    except IntonationError as error:
        if practice.temperament == OWN:
            troubles["temperament"] = say("{error} Equal temperament is used.", error=error)
            practice = replace(practice, temperament="equal")
    return replace(choices, practice=practice)


def _own_temperament(file: str) -> Temperament:
    from intonation.store.own_files import read_temperament

    return read_temperament(Path(file))
