"""The choices about the sound: what is listened to, and where the reference sounds."""

from dataclasses import replace
from pathlib import Path

from intonation.app import device_words, sounds_words
from intonation.app.choices import Choice, neighbour
from intonation.app.devices_found import DevicesFound
from intonation.app.sounds_choices import NO_FONT, FontKnown, sounds_choices
from intonation.engine.messages import SoundSettings
from intonation.errors import SoundFileError
from intonation.language import name_in_words, say
from intonation.pitch.notes import midi_of_note

_MICROPHONE, _RECORDING, _SIMULATED, _TWO_FAULTS = device_words.SOURCES
_STEPS = (_MICROPHONE, _SIMULATED, _TWO_FAULTS)


def _source(sound: SoundSettings) -> str:
    if sound.simulated:
        return _TWO_FAULTS if sound.two_faults else _SIMULATED
    return _RECORDING if sound.recording else _MICROPHONE


def _source_shown(sound: SoundSettings) -> str:
    return sound.recording.name if sound.recording else name_in_words(_source(sound))


def _source_stepped(sound: SoundSettings, steps: int) -> SoundSettings:
    """Go between microphone and simulated players; a recording has to be typed."""
    if sound.recording is not None:
        return _from(sound, _MICROPHONE)
    return _from(sound, neighbour(_STEPS, _source(sound), steps))


def _from(sound: SoundSettings, source: str) -> SoundSettings:
    return replace(
        sound,
        recording=None,
        simulated=source != _MICROPHONE,
        two_faults=source == _TWO_FAULTS,
        work=(),
    )


def _source_entered(sound: SoundSettings, text: str) -> SoundSettings:
    wanted = text.strip()
    named = wanted.lower() or _MICROPHONE
    for step in _STEPS:
        if named in (step, name_in_words(step).lower()):
            return _from(sound, step)
    path = Path(wanted).expanduser()
    if not path.is_file():
        raise SoundFileError(*device_words.no_such_recording(wanted))
    return replace(_from(sound, _MICROPHONE), recording=path)


def _step_key_entered(sound: SoundSettings, text: str) -> SoundSettings:
    wanted = text.strip()
    is_none = wanted.lower() in ("", sounds_words.NO_STEP_KEY)
    return replace(sound, step_midi=None if is_none else midi_of_note(wanted))


_STEP_KEY: Choice[SoundSettings] = Choice(
    name="step key",
    label=sounds_words.STEP_KEY,
    shown=lambda sound: sounds_words.step_key(sound.step_midi),
    explained=lambda _: sounds_words.STEP_KEY_EXPLAINED,
    entered=_step_key_entered,
)


def sound_choices(
    found: DevicesFound, font: FontKnown = NO_FONT
) -> tuple[Choice[SoundSettings], ...]:
    """Return the choices, given the devices that were found and the player's SoundFont."""
    microphones, outputs, keyboards = found.microphones, found.outputs, found.keyboards
    return (
        Choice(
            name="source",
            label=say("Listen to"),
            shown=_source_shown,
            explained=lambda sound: device_words.SOURCE_EXPLAINED[_source(sound)],
            stepped=_source_stepped,
            entered=_source_entered,
        ),
        Choice(
            name="microphone",
            label=say("Microphone"),
            shown=lambda sound: sound.microphone or device_words.SYSTEM_CHOICE,
            explained=lambda _: device_words.devices_found(microphones),
            stepped=lambda sound, steps: replace(
                sound, microphone=neighbour((None, *microphones), sound.microphone, steps)
            ),
        ),
        Choice(
            name="output",
            label=say("Output"),
            shown=lambda sound: sound.output or device_words.SYSTEM_CHOICE,
            explained=lambda _: device_words.devices_found(outputs),
            stepped=lambda sound, steps: replace(
                sound, output=neighbour((None, *outputs), sound.output, steps)
            ),
        ),
        Choice(
            name="headphones",
            label=say("Heard through"),
            shown=lambda sound: device_words.HEARD_THROUGH[sound.headphones],
            explained=lambda sound: device_words.HEARD_EXPLAINED[sound.headphones],
            stepped=lambda sound, _: replace(sound, headphones=not sound.headphones),
        ),
        *sounds_choices(font, fluidsynth_trouble=found.fluidsynth_trouble),
        Choice(
            name="keyboard",
            label=say("Keyboard"),
            shown=lambda sound: sound.keyboard or device_words.NO_KEYBOARD,
            explained=lambda _: found.keyboard_trouble or device_words.keyboards_found(keyboards),
            stepped=lambda sound, steps: replace(
                sound, keyboard=neighbour((None, *keyboards), sound.keyboard, steps)
            ),
        ),
        *([_STEP_KEY] if keyboards else []),
    )
