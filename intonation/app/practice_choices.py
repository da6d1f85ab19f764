"""The choices before a take: instrument, pitch, tuning, drone, voice and loudness."""

from dataclasses import replace
from pathlib import Path

from intonation.app import words
from intonation.app.choices import Choice, neighbour, next_named
from intonation.app.instrument_choices import instrument_choice
from intonation.app.instrument_shelf import InstrumentShelf
from intonation.errors import SettingsError
from intonation.language import name_in_words, say
from intonation.pitch.concert_pitch import CONCERT_PITCHES, concert_pitch_hz
from intonation.pitch.notes import PITCH_CLASSES, midi_of_note, note_name
from intonation.pitch.temperaments import TEMPERAMENTS, temperament_named
from intonation.practice.settings import OWN, PURE, PracticeSettings
from intonation.practice.tuning import temperament_of
from intonation.synth.voices import VOICES, voice_named
from intonation.words.targets import tuning_in_words

LOWEST_DRONE_MIDI, HIGHEST_DRONE_MIDI = 36, 95
SOFTEST_DB, LOUDEST_DB, LOUDNESS_STEP_DB = -48.0, 0.0, 3.0
COLDEST_C, USUAL_C, WARMEST_C = 5.0, 20.0, 40.0
_TUNINGS = (PURE, *TEMPERAMENTS)
_FILE = ".toml"


def louder(settings: PracticeSettings, change_db: float) -> PracticeSettings:
    """Return the settings with the reference louder (positive) or softer, within its bounds."""
    loudness_db = min(max(settings.loudness_db + change_db, SOFTEST_DB), LOUDEST_DB)
    return replace(settings, loudness_db=loudness_db)


def _player_entered(settings: PracticeSettings, text: str) -> PracticeSettings:
    name = " ".join(text.split())
    if not name:
        raise SettingsError(*words.NO_PLAYER_NAME)
    return replace(settings, player=name)


def _pitch_stepped(settings: PracticeSettings, steps: int) -> PracticeSettings:
    named = sorted(CONCERT_PITCHES.values())
    return replace(settings, a4_hz=next_named(named, settings.a4_hz, steps))


def _pitch_entered(settings: PracticeSettings, text: str) -> PracticeSettings:
    return replace(settings, a4_hz=concert_pitch_hz(text))


def _tuning_stepped(settings: PracticeSettings, steps: int) -> PracticeSettings:
    known = _TUNINGS if settings.own_temperament is None else (*_TUNINGS, OWN)
    return replace(settings, temperament=neighbour(known, settings.temperament, steps))


def with_own_temperament(settings: PracticeSettings, path: str) -> PracticeSettings:
    """Return the settings with the player's own temperament of a file in use.

    Raises
    ------
    DataFileError
        If the file cannot be read or has a mistake in it.
    """
    from intonation.store.own_files import read_temperament

    file = Path(path.strip()).expanduser().absolute()
    own = read_temperament(file)
    return replace(settings, temperament=OWN, own_temperament=own, temperament_file=str(file))


def _tuning_entered(settings: PracticeSettings, text: str) -> PracticeSettings:
    if text.strip().endswith(_FILE):
        return with_own_temperament(settings, text)
    name = "-".join(text.split())
    if name.lower() in _TUNINGS:
        return replace(settings, temperament=name.lower())
    return replace(settings, temperament=temperament_named(name).name)


def _tuning_explained(settings: PracticeSettings) -> str:
    if settings.temperament == PURE:
        return words.PURE_TUNING
    return temperament_of(settings).definition


def _with_drone(settings: PracticeSettings, midi: int) -> PracticeSettings:
    if not LOWEST_DRONE_MIDI <= midi <= HIGHEST_DRONE_MIDI:
        lowest, highest = note_name(LOWEST_DRONE_MIDI), note_name(HIGHEST_DRONE_MIDI)
        raise SettingsError(*words.drone_out_of_range(note_name(midi), lowest, highest))
    return replace(settings, drone_midi=midi)


def _note_stepped(settings: PracticeSettings, steps: int) -> PracticeSettings:
    octave = settings.drone_midi - settings.drone_midi % 12
    return replace(settings, drone_midi=octave + (settings.drone_midi + steps) % 12)


def _octave_stepped(settings: PracticeSettings, steps: int) -> PracticeSettings:
    midi = settings.drone_midi + 12 * steps
    inside = LOWEST_DRONE_MIDI <= midi <= HIGHEST_DRONE_MIDI
    return replace(settings, drone_midi=midi) if inside else settings


def _note_entered(settings: PracticeSettings, text: str) -> PracticeSettings:
    has_octave = text.strip()[-1:].isdigit()
    octave = settings.drone_midi // 12 - 1
    return _with_drone(settings, midi_of_note(text if has_octave else f"{text.strip()}{octave}"))


def _octave_entered(settings: PracticeSettings, text: str) -> PracticeSettings:
    return _note_entered(settings, f"{PITCH_CLASSES[settings.drone_midi % 12]}{text.strip()}")


def _voice_stepped(settings: PracticeSettings, steps: int) -> PracticeSettings:
    return replace(settings, voice=neighbour(tuple(VOICES), settings.voice, steps))


def _voice_entered(settings: PracticeSettings, text: str) -> PracticeSettings:
    return replace(settings, voice=voice_named(text.strip()).name)


def _temperature_stepped(settings: PracticeSettings, steps: int) -> PracticeSettings:
    known = settings.temperature_c
    if known is None:
        return replace(settings, temperature_c=USUAL_C)
    return replace(settings, temperature_c=min(max(known + steps, COLDEST_C), WARMEST_C))


def _temperature_entered(settings: PracticeSettings, text: str) -> PracticeSettings:
    number = text.strip().upper().removesuffix("C").removesuffix("°").strip().replace(",", ".")
    if not number:
        return replace(settings, temperature_c=None)
    try:
        celsius = float(number)
    except ValueError:
        celsius = float("nan")
    if not COLDEST_C <= celsius <= WARMEST_C:
        raise SettingsError(*words.temperature_out_of_range(text, COLDEST_C, WARMEST_C))
    return replace(settings, temperature_c=celsius)


def practice_choices(shelf: InstrumentShelf) -> tuple[Choice[PracticeSettings], ...]:
    """Return the lines of choices before a take, the player's instruments among them."""
    who, *others = _CHOICES
    return (who, instrument_choice(shelf), *others)


_CHOICES: tuple[Choice[PracticeSettings], ...] = (
    Choice(
        name="player",
        label=say("Player"),
        shown=lambda settings: settings.player,
        explained=lambda _: words.PLAYER,
        entered=_player_entered,
    ),
    Choice(
        name="concert pitch",
        label=say("Concert pitch"),
        shown=lambda settings: words.concert_pitch(settings.a4_hz),
        explained=lambda settings: words.concert_pitch_explained(settings.a4_hz),
        stepped=_pitch_stepped,
        entered=_pitch_entered,
    ),
    Choice(
        name="tuning",
        label=say("Tuning"),
        shown=lambda settings: tuning_in_words(settings.tuning_name),
        explained=_tuning_explained,
        stepped=_tuning_stepped,
        entered=_tuning_entered,
    ),
    Choice(
        name="drone",
        label=say("Drone"),
        shown=lambda settings: PITCH_CLASSES[settings.drone_midi % 12],
        explained=lambda settings: words.drone_explained(note_name(settings.drone_midi)),
        stepped=_note_stepped,
        entered=_note_entered,
    ),
    Choice(
        name="octave",
        label=say("in octave"),
        shown=lambda settings: str(settings.drone_midi // 12 - 1),
        explained=lambda settings: words.drone_explained(note_name(settings.drone_midi)),
        stepped=_octave_stepped,
        entered=_octave_entered,
    ),
    Choice(
        name="fifth",
        label=say("with its fifth"),
        shown=lambda settings: words.yes_or_no(settings.drone_fifth),
        explained=lambda _: words.WITH_FIFTH,
        stepped=lambda settings, _: replace(settings, drone_fifth=not settings.drone_fifth),
    ),
    Choice(
        name="drone octave",
        label=say("with its octave"),
        shown=lambda settings: words.yes_or_no(settings.drone_octave),
        explained=lambda _: words.WITH_OCTAVE,
        stepped=lambda settings, _: replace(settings, drone_octave=not settings.drone_octave),
    ),
    Choice(
        name="voice",
        label=say("Voice"),
        shown=lambda settings: name_in_words(settings.voice),
        explained=lambda settings: voice_named(settings.voice).description,
        stepped=_voice_stepped,
        entered=_voice_entered,
    ),
    Choice(
        name="loudness",
        label=say("Loudness"),
        shown=lambda settings: words.loudness(settings.loudness_db),
        explained=lambda _: words.loudness_explained(),
        stepped=lambda settings, steps: louder(settings, steps * LOUDNESS_STEP_DB),
    ),
    Choice(
        name="room",
        label=say("Room"),
        shown=lambda settings: words.temperature(settings.temperature_c),
        explained=lambda _: words.ROOM,
        stepped=_temperature_stepped,
        entered=_temperature_entered,
    ),
)
