"""Which language is asked for, and where its file is."""

import os
from pathlib import Path

from intonation.errors import DataFileError, IntonationError
from intonation.language import say, speak

LANGUAGE_VARIABLE = "INTONATION_LANGUAGE"
"""Environment variable with the code of a language, or the path of its file."""

ENDING = ".po"
_ENGLISH = ("", "en", "english")


def speak_as_chosen(settings: Path | None = None) -> str | None:
    """Take up the language that is asked for; return what is wrong with it, if anything is.

    Parameters
    ----------
    settings
        The settings file, which counts where the environment names no language.
    """
    asked = os.environ.get(LANGUAGE_VARIABLE) or (_remembered(settings) if settings else "")
    if asked.lower() in _ENGLISH:
        return None
    # the sound engine and whatever else runs apart speak the same
    os.environ[LANGUAGE_VARIABLE] = asked
    try:
        return _speak(file_of(asked, settings.parent if settings else None))
    except IntonationError as error:
        return str(error)


def file_of(asked: str, own_folder: Path | None = None) -> Path:
    """Return the file of a language, given as a code or as a path.

    Raises
    ------
    DataFileError
        If there is none.
    """
    if asked.endswith(ENDING) or os.sep in asked:
        return Path(asked).expanduser()
    found = {path.stem: path for path in catalogue_files(own_folder)}
    if asked in found:
        return found[asked]
    raise DataFileError(
        say('There is no language "{asked}" here.', asked=asked),
        say("See `intonation languages` for those that there are."),
    )


def catalogue_files(own_folder: Path | None = None) -> tuple[Path, ...]:
    """Return the files of languages: those that ship, then those beside the settings."""
    shipped = Path(__file__).parent.glob(f"*{ENDING}")
    own = own_folder.glob(f"languages/*{ENDING}") if own_folder else ()
    return (*sorted(shipped), *sorted(own))


def _speak(path: Path) -> str | None:
    from intonation.languages.catalogue import read_catalogue

    catalogue = read_catalogue(path)
    speak(catalogue.translations)
    return str(catalogue.mistakes[0]) if catalogue.mistakes else None


def _remembered(settings: Path) -> str:
    """Return the language in the settings; whatever is wrong with them is said elsewhere."""
    try:
        text = settings.read_text("utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return ""
    return _language_in(text) if "language" in text else ""


def _language_in(text: str) -> str:
    import tomllib

    try:
        screen = tomllib.loads(text).get("screen")
    except tomllib.TOMLDecodeError:
        return ""
    language = screen.get("language") if isinstance(screen, dict) else None
    return language if isinstance(language, str) else ""
