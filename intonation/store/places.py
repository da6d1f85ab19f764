"""Where the practice record, the settings and the log live on this system."""

import os
from pathlib import Path

HOME_VARIABLE = "INTONATION_HOME"
"""Environment variable that puts everything into one folder of the user's choice."""

_NAME = "intonation"


def record_path() -> Path:
    """Return the file of the practice record. It need not exist."""
    return _folder("user_data_path") / "practice.sqlite"


def settings_path() -> Path:
    """Return the file of the settings. It need not exist."""
    return _folder("user_config_path") / "settings.toml"


def own_keys_path() -> Path:
    """Return the file of the player's own keys. It need not exist."""
    return _folder("user_config_path") / "keys.toml"


def own_exercises_folder() -> Path:
    """Return the folder of the player's own exercises. It need not exist."""
    return _folder("user_data_path") / "exercises"


def own_geometries_path() -> Path:
    """Return the file that remembers the dimensions of one's own instruments. It need not exist."""
    return _folder("user_config_path") / "geometries.toml"


def log_folder() -> Path:
    """Return the folder for log files. It need not exist."""
    return _folder("user_log_path")


def _folder(kind: str) -> Path:
    chosen = os.environ.get(HOME_VARIABLE, "")
    if chosen:
        return Path(chosen).expanduser()
    import platformdirs

    folder: Path = getattr(platformdirs, kind)(_NAME, appauthor=False)
    return folder
