"""The exact command that installs a missing system library on this machine."""

import shutil
import sys
from collections.abc import Callable
from typing import Literal

Library = Literal["portaudio", "fluidsynth", "sndfile"]

_PACKAGES: dict[str, dict[Library, str]] = {
    "sudo apt-get install": {
        "portaudio": "libportaudio2",
        "fluidsynth": "libfluidsynth3",
        "sndfile": "libsndfile1",
    },
    "sudo dnf install": {
        "portaudio": "portaudio",
        "fluidsynth": "fluidsynth-libs",
        "sndfile": "libsndfile",
    },
    "sudo pacman -S": {
        "portaudio": "portaudio",
        "fluidsynth": "fluidsynth",
        "sndfile": "libsndfile",
    },
    "sudo zypper install": {
        "portaudio": "libportaudio2",
        "fluidsynth": "libfluidsynth3",
        "sndfile": "libsndfile1",
    },
    "brew install": {
        "portaudio": "portaudio",
        "fluidsynth": "fluid-synth",
        "sndfile": "libsndfile",
    },
    "choco install": {"fluidsynth": "fluidsynth"},
}
_REINSTALL: dict[Library, str] = {
    "portaudio": "python -m pip install --force-reinstall sounddevice",
    "sndfile": "python -m pip install --force-reinstall soundfile",
    "fluidsynth": "see https://www.fluidsynth.org/download/",
}
_BY_PLATFORM = {"darwin": ("brew",), "win32": ("choco",)}
_LINUX = ("apt-get", "dnf", "pacman", "zypper")


def install_command(
    library: Library,
    *,
    platform: str = sys.platform,
    which: Callable[[str], str | None] = shutil.which,
) -> str:
    """Return the command that installs a system library, for the package tool found here.

    Parameters
    ----------
    library
        Which library is missing.
    platform
        As in `sys.platform`.
    which
        Finds a program by name, as `shutil.which`.
    """
    for tool in _BY_PLATFORM.get(platform, _LINUX):
        if which(tool) is None:
            continue
        for command, packages in _PACKAGES.items():
            if tool in command.split() and library in packages:
                return f"{command} {packages[library]}"
    return _REINSTALL[library]
