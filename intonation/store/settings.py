"""The settings file: what the player chose last time, in TOML that may be edited by hand."""

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from intonation.errors import DataFileError, IntonationError, SettingsError
from intonation.instruments.other_systems import SYSTEMS
from intonation.language import say
from intonation.practice.ear_choices import (
    EAR_DRILLS,
    EAR_FEEDBACK,
    EAR_MINUTES,
    EAR_REGISTERS,
    EAR_VERSIONS,
    EarChoices,
)
from intonation.practice.settings import PracticeSettings
from intonation.store.setting_values import (
    Reading,
    concert_pitch,
    loudness,
    note,
    one_of,
    optional_name,
    size,
    temperament,
    temperature,
    whole_number,
    with_size,
    word,
    yes_or_no,
)
from intonation.toml_text import TomlText, nearest_word, parse_toml

_OPENING = (
    "# The choices of intonation, remembered from one sitting to the next.\n"
    "# Edit them while the program is closed; a line that is left out takes its usual value.\n\n"
)
_MEND = say("Mend the file or delete it.")


@dataclass(frozen=True, slots=True, kw_only=True)
class RememberedSettings:
    """What is remembered between sittings.

    Parameters
    ----------
    practice
        Instrument, tuning, drone and all else that a take depends on.
    microphone, output
        Names of sound devices; None takes the system's default.
    headphones
        Whether the player hears the reference in headphones.
    keyboard
        Name of a MIDI keyboard whose keys become the reference; None for none.
    step_midi
        A key of it that steps on instead of sounding; None for none.
    sounds
        What sounds the reference: ``built-in``, ``fluidsynth`` or ``soundfont``.
    soundfont, soundfont_bank, soundfont_program
        The player's own SoundFont file, and which of its presets.
    theme
        Name of the screen's theme; None takes the usual one.
    language
        Code of a language, or the path of its file; None takes English.
    ear
        What was chosen for the ear drills.
    """

    practice: PracticeSettings = field(default_factory=PracticeSettings)
    microphone: str | None = None
    output: str | None = None
    headphones: bool = False
    keyboard: str | None = None
    step_midi: int | None = None
    sounds: str = "built-in"
    soundfont: str | None = None
    soundfont_bank: int | None = None
    soundfont_program: int | None = None
    theme: str | None = None
    language: str | None = None
    ear: EarChoices = field(default_factory=EarChoices)


@dataclass(frozen=True, slots=True)
class SettingsRead:
    """Settings that can be used, and what was wrong with the file they come from, if anything."""

    settings: RememberedSettings
    complaint: SettingsError | None = None


_PRACTICE: dict[str, Reading] = {
    "player": word("player"),
    "instrument": word("instrument"),
    "size": size,
    "fingering_system": one_of(*SYSTEMS),
    "a4_hz": concert_pitch,
    "temperament": temperament,
    "temperament_file": optional_name,
    "drone_midi": note,
    "drone_fifth": yes_or_no,
    "drone_octave": yes_or_no,
    "loudness_db": loudness,
    "voice": word("voice"),
    "temperature_c": temperature,
}
_SOUND: dict[str, Reading] = {
    "microphone": optional_name,
    "output": optional_name,
    "headphones": yes_or_no,
    "keyboard": optional_name,
    "step_midi": note,
    "sounds": one_of("built-in", "fluidsynth", "soundfont"),
    "soundfont": optional_name,
    "soundfont_bank": whole_number(0, 0x3FFF),
    "soundfont_program": whole_number(0, 127),
}
_SCREEN: dict[str, Reading] = {"theme": optional_name, "language": optional_name}
_EAR: dict[str, Reading] = {
    "drill": one_of(*EAR_DRILLS),
    "interval": optional_name,
    "register": one_of(*EAR_REGISTERS),
    "versions": whole_number(EAR_VERSIONS[0], EAR_VERSIONS[-1]),
    "minutes": whole_number(EAR_MINUTES[0], EAR_MINUTES[-1]),
    "feedback": one_of(*EAR_FEEDBACK),
}
_TABLES = {"practice": _PRACTICE, "sound": _SOUND, "screen": _SCREEN, "ear": _EAR}


def read_settings(path: Path) -> SettingsRead:
    """Return the remembered settings, or the usual ones where the file is missing or wrong.

    A value that cannot be used is replaced by its usual one; the first such mistake is the
    complaint, with its line. The file itself is never changed by reading it.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
        toml = parse_toml(text, file_name=str(path), what_to_do=_MEND)
    except FileNotFoundError:
        return SettingsRead(RememberedSettings())
    except UnicodeDecodeError:
        return _usual(say("{path} is not a text in UTF-8.", path=path))
    except OSError as cause:
        return _usual(
            say("{path} cannot be read ({strerror}).", path=path, strerror=cause.strerror)
        )
    except DataFileError as mistake:
        return _usual(mistake.sentence)
    return _settings_in(toml)


def _usual(sentence: str) -> SettingsRead:
    complaint = SettingsError(
        say("{sentence} The usual settings are used.", sentence=sentence), _MEND
    )
    return SettingsRead(RememberedSettings(), complaint)


def _settings_in(toml: TomlText) -> SettingsRead:
    complaints: list[SettingsError] = []
    values = {name: _values_in(toml, name, complaints) for name in _TABLES}
    values["practice"] = _with_size(toml, values["practice"], complaints)
    complaints += [
        _unknown(toml, name, None, _TABLES) for name in toml.table if name not in _TABLES
    ]
    settings = RememberedSettings(
        practice=replace(PracticeSettings(), **values["practice"]),
        **values["sound"],
        **values["screen"],
        ear=EarChoices(**values["ear"]),
    )
    return SettingsRead(settings, complaints[0] if complaints else None)


def _values_in(toml: TomlText, name: str, complaints: list[SettingsError]) -> dict[str, Any]:
    table, readings = toml.table.get(name, {}), _TABLES[name]
    if not isinstance(table, dict):
        complaints.append(
            _mistake(
                toml,
                name,
                None,
                say("{name} is not a table.", name=name),
                say("Write [{table}].", table=name),
            )
        )
        return {}
    values = {}
    for key, value in table.items():
        if key not in readings:
            complaints.append(_unknown(toml, key, name, readings))
            continue
        try:
            values[key] = readings[key](value)
        except IntonationError as problem:
            complaints.append(_mistake(toml, key, name, problem.sentence, problem.what_to_do))
    return values


def _with_size(
    toml: TomlText, values: dict[str, Any], complaints: list[SettingsError]
) -> dict[str, Any]:
    """Return values of practice with an instrument whose size is known."""
    try:
        return with_size(values)
    except SettingsError as problem:
        complaints.append(
            _mistake(toml, "instrument", "practice", problem.sentence, problem.what_to_do)
        )
        return {name: value for name, value in values.items() if name != "instrument"}


def _unknown(toml: TomlText, key: str, header: str | None, known: Any) -> SettingsError:
    return _mistake(
        toml, key, header, say('there is no setting "{key}".', key=key), nearest_word(key, known)
    )


def _mistake(
    toml: TomlText, key: str, header: str | None, problem: str, what_to_do: str
) -> SettingsError:
    line = toml.line_of(key, header=header) or toml.line_of("", header=key)
    sentence = toml.mistake(line, problem, what_to_do).sentence
    return SettingsError(say("{sentence} Its usual value is used.", sentence=sentence), what_to_do)


def write_settings(path: Path, settings: RememberedSettings) -> None:
    """Remember settings; the file holds the old ones or the new ones, never half of them.

    A file that could not be read without complaint is kept beside the new one.

    Raises
    ------
    SettingsError
        If they cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        before = read_settings(path)
        if before.complaint is not None:
            path.replace(_unused_name(path))
        # the interface does not offer the language; what the player wrote stays
        language = settings.language or before.settings.language
        written = path.with_name(f"{path.name}.new")
        written.write_bytes(
            settings_text(replace(settings, language=language)).encode("utf-8", "replace")
        )
        written.replace(path)
    except OSError as cause:
        raise SettingsError(
            say(
                "The settings cannot be written to {path} ({strerror}), so they will be forgotten.",
                path=path,
                strerror=cause.strerror,
            ),
            say("Check who owns the folder, and the space left on the disk."),
        ) from cause


def settings_text(settings: RememberedSettings) -> str:
    """Return the text of the settings file."""
    import tomli_w

    homes: dict[str, object] = {
        "practice": settings.practice,
        "sound": settings,
        "screen": settings,
        "ear": settings.ear,
    }
    document = {name: _known(homes[name], _TABLES[name]) for name in _TABLES}
    return _OPENING + tomli_w.dumps({name: table for name, table in document.items() if table})


def _known(home: object, readings: dict[str, Reading]) -> dict[str, Any]:
    values = {key: getattr(home, key) for key in readings}
    return {key: value for key, value in values.items() if value is not None}


def _unused_name(path: Path) -> Path:
    number = 1
    while (kept := path.with_name(f"{path.stem}.kept-{number}{path.suffix}")).exists():
        number += 1
    return kept
