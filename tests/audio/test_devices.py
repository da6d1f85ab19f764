"""Choosing a microphone or an output by name, and what is said when there is none."""

import re
import sys

import pytest

from intonation.audio.devices import SoundDevice, choose_device, sound_devices
from intonation.errors import SetupError
from intonation.install_hints import install_command

DEVICES = (
    SoundDevice(0, "Built-in Microphone", "ALSA", 2, 0, is_default_input=True),
    SoundDevice(1, "Built-in Speakers", "ALSA", 0, 2),
    SoundDevice(2, "Studio Interface A", "ALSA", 8, 8, is_default_output=True),
    SoundDevice(3, "Studio Interface B", "ALSA", 8, 8),
)


def test_without_a_name_the_system_chooses() -> None:
    assert choose_device(DEVICES, "microphone", None).index == 0
    assert choose_device(DEVICES, "output", None).index == 2


def test_part_of_a_name_is_enough() -> None:
    assert choose_device(DEVICES, "output", "speakers").index == 1
    assert choose_device(DEVICES, "microphone", "studio interface b").index == 3


def test_a_name_that_fits_several_devices_is_questioned() -> None:
    with pytest.raises(SetupError, match='fits several devices: "Studio Interface A"'):
        choose_device(DEVICES, "microphone", "studio")


def test_an_unknown_name_is_answered_with_the_nearest() -> None:
    with pytest.raises(SetupError, match=r"no microphone \"Bilt-in Mikrophone\".*Built-in Micro"):
        choose_device(DEVICES, "microphone", "Bilt-in Mikrophone")


def test_an_output_is_no_microphone() -> None:
    with pytest.raises(SetupError, match="no microphone"):
        choose_device(DEVICES, "microphone", "Built-in Speakers")


def test_a_system_without_a_microphone_is_told_what_to_do() -> None:
    with pytest.raises(SetupError, match=r"has no microphone.*Plug one in"):
        choose_device((DEVICES[1],), "microphone", None)


def test_a_missing_portaudio_is_named_with_the_command_that_installs_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    with pytest.raises(SetupError, match=r"PortAudio.*is missing.*recordings.*Install it with"):
        sound_devices()


@pytest.mark.parametrize(
    ("platform", "tool", "command"),
    [
        ("linux", "apt-get", "sudo apt-get install libportaudio2"),
        ("linux", "dnf", "sudo dnf install portaudio"),
        ("linux", "pacman", "sudo pacman -S portaudio"),
        ("linux", "zypper", "sudo zypper install libportaudio2"),
        ("darwin", "brew", "brew install portaudio"),
        ("win32", "choco", "python -m pip install --force-reinstall sounddevice"),
        ("linux", "nothing", "python -m pip install --force-reinstall sounddevice"),
    ],
)
def test_the_command_fits_the_system(platform: str, tool: str, command: str) -> None:
    found = install_command(
        "portaudio", platform=platform, which=lambda name: name if name == tool else None
    )
    assert found == command


def test_the_synthesiser_library_has_a_command_on_windows_too() -> None:
    assert install_command("fluidsynth", platform="win32", which=str) == "choco install fluidsynth"
    assert re.match(
        "see https://", install_command("fluidsynth", platform="win32", which=lambda _: None)
    )
