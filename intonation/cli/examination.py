"""Looks at everything that practice needs: libraries, files and sound devices."""

import ctypes.util
import platform
from collections.abc import Callable

from intonation import __version__
from intonation.audio.devices import Direction, choose_device, portaudio, sound_devices
from intonation.audio.sound_files import library_version
from intonation.engine.messages import SoundSettings
from intonation.errors import IntonationError
from intonation.install_hints import install_command
from intonation.language import say
from intonation.report.findings import Finding
from intonation.store.places import record_path, settings_path
from intonation.store.settings import read_settings
from intonation.store.store import Store


def found_here(sound: SoundSettings) -> tuple[Finding, ...]:
    """Return what there is to be said about this system, one finding for each part.

    Parameters
    ----------
    sound
        Which devices are meant.
    """
    return (
        _program(),
        examined("PortAudio", _portaudio),
        examined("libsndfile", _sndfile),
        examined("FluidSynth", _fluidsynth),
        examined("microphone", lambda: _device("microphone", sound.microphone)),
        examined("output", lambda: _device("output", sound.output)),
        examined("settings", _settings),
        examined("practice record", _record),
    )


def examined(subject: str, look: Callable[[], str]) -> Finding:
    """Return what a look at one thing has found; an error is a finding too."""
    try:
        return Finding(subject, look())
    except IntonationError as problem:
        return Finding(subject, problem.sentence, problem.what_to_do)


def _program() -> Finding:
    system = f"{platform.system()} {platform.release()}"
    python = f"Python {platform.python_version()}"
    return Finding(
        "intonation",
        say(
            "Version {version}, {python}, {system}.",
            version=__version__,
            python=python,
            system=system,
        ),
    )


def _portaudio() -> str:
    version = portaudio().get_portaudio_version()[1]
    return say(
        "Microphone and loudspeaker are reached by {version}.", version=version.split(",")[0]
    )


def _sndfile() -> str:
    return say(
        "Recordings are read by libsndfile {library_version}.", library_version=library_version()
    )


def _fluidsynth() -> str:
    if ctypes.util.find_library("fluidsynth") is None:
        return say(
            "Not here; only needed to hear the reference through FluidSynth or a "
            "SoundFont. To install it: {command}",
            command=install_command("fluidsynth"),
        )
    return say("FluidSynth can render the reference.")


def _device(direction: Direction, name: str | None) -> str:
    found = choose_device(sound_devices(), direction, name)
    return (
        say('"{found}" is used.', found=found.name)
        if name
        else say('"{found}" is used unless you choose another.', found=found.name)
    )


def _settings() -> str:
    read = read_settings(settings_path())
    if read.complaint is not None:
        raise read.complaint
    place = settings_path()
    return (
        say("In {place}.", place=place)
        if place.exists()
        else say("None yet; they will be kept in {place}.", place=place)
    )


def _record() -> str:
    place = record_path()
    with Store(place) as store:
        store.check()
        held_notes = sum(note.count for note in store.note_summaries())
    return (
        say("{held_notes} held notes in {place}.", held_notes=held_notes, place=place)
        if place.exists()
        else say("None yet, in {place}.", place=place)
    )
