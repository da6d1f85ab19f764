"""Which connection a player's sound settings ask for."""

import time
from collections.abc import Callable

import numpy as np

from intonation.audio.sound_files import Recording
from intonation.audio.sources import InRealTime, SampleSource, Silence
from intonation.engine.connections import (
    Connection,
    MakeCheckPlayer,
    MakeSource,
    StandIn,
)
from intonation.engine.keys import Keys
from intonation.engine.messages import SoundSettings
from intonation.exercise.score import Score
from intonation.instruments.instrument import Instrument
from intonation.interchange.midi_keyboard import MidiKeyboard
from intonation.practice.settings import PracticeSettings
from intonation.practice.tuning import drone_of
from intonation.simulation.check_player import CheckPlayer, careful_case, check_case
from intonation.simulation.plan import PlannedNote, drone_practice
from intonation.simulation.players import simulated_player
from intonation.simulation.recorder import SimulatedRecorder
from intonation.simulation.two_faults import recorder_with_two_faults

SIMULATED_RATE_HZ = 48_000.0
SIMULATED_NOTES = 12
SIMULATED_PLAYER = "wren"
TONGUED_SHARE = 0.9
"""How much of a note's time it sounds when it is played tongued."""

LEAK_DB = -30.0
"""How much softer than at the output the reference is at a simulated player's microphone."""


def connection_for(sound: SoundSettings) -> Callable[[], Connection]:
    """Return what opens the connection that these settings ask for, in real time."""
    if sound.recording is not None:
        return lambda: recording_connection(sound, real_time=True)
    if sound.simulated:
        return lambda: simulated_connection(sound, real_time=True)

    def card() -> Connection:
        from intonation.engine.card import CardConnection

        return CardConnection(sound)

    return card


def keys_for(sound: SoundSettings) -> Keys | None:
    """Return the keyboard that these settings ask for, to be opened at the first take."""
    name = sound.keyboard
    if name is None:
        return None
    return Keys(lambda: MidiKeyboard(name, step_midi=sound.step_midi))


def recording_connection(sound: SoundSettings, *, real_time: bool) -> StandIn:
    """Return a connection in which a recording is heard from its beginning at every take.

    Raises
    ------
    SoundFileError
        If the recording cannot be read.
    """
    path = sound.recording
    assert path is not None

    def open_recording(_settings: PracticeSettings, _synth: object) -> SampleSource:
        return _paced(Recording(path), real_time=real_time)

    rate_hz = Recording(path).sample_rate_hz
    return StandIn(
        path.name,
        sample_rate_hz=rate_hz,
        make_source=open_recording,
        between_takes=_quiet(rate_hz, real_time=real_time),
        sounds=sound.sounds,
    )


def simulated_connection(
    sound: SoundSettings,
    *,
    real_time: bool,
    make_player: MakeSource | None = None,
    make_check_player: MakeCheckPlayer | None = None,
) -> StandIn:
    """Return a connection in which a simulated player practises against the drone.

    Parameters
    ----------
    sound
        Whether the player wears headphones, and the seed of all chance.
    real_time
        Whether it plays takes at the pace of the clock or as fast as it is listened to; a check is
        always played as fast as that.
    make_player, make_check_player
        Make other players than the usual ones.
    """
    make = make_player or _usual_player(sound)
    return StandIn(
        "simulated player",
        sample_rate_hz=SIMULATED_RATE_HZ,
        make_source=lambda settings, synth: _paced(make(settings, synth), real_time=real_time),
        make_melody_source=lambda settings, melody: _paced(
            _melody_player(settings, melody, sound), real_time=real_time
        ),
        make_check_player=make_check_player or _checked_player(sound),
        leak_db=None if sound.headphones else LEAK_DB,
        between_takes=_quiet(SIMULATED_RATE_HZ, real_time=real_time),
        sounds=sound.sounds,
    )


def _recorder_of(sound: SoundSettings, instrument: Instrument) -> SimulatedRecorder | None:
    """Return the recorder with two faults as it is now; None for one that is only invented."""
    if not sound.two_faults:
        return None
    return recorder_with_two_faults(instrument, seed=sound.seed, work=sound.work)


def _usual_player(sound: SoundSettings) -> MakeSource:
    def make(settings: PracticeSettings, _synth: object) -> SampleSource:
        instrument = settings.recorder
        plan = drone_practice(
            instrument,
            drone_midi=settings.drone_midi,
            count=SIMULATED_NOTES,
            rng=np.random.default_rng(sound.seed),
        )
        return simulated_player(
            SIMULATED_PLAYER,
            instrument,
            plan,
            seed=sound.seed,
            recorder=_recorder_of(sound, settings.recorder),
            a4_hz=settings.a4_hz,
            reference_hz=drone_of(settings).frequencies_hz,
            sample_rate_hz=SIMULATED_RATE_HZ,
        )

    return make


def _checked_player(sound: SoundSettings) -> MakeCheckPlayer:
    def make(settings: PracticeSettings) -> CheckPlayer:
        made = _recorder_of(sound, settings.recorder)
        if made is None:
            case = check_case(settings.recorder, seed=sound.seed)
        else:
            case = careful_case(made, seed=sound.seed)
        return CheckPlayer(
            case,
            # other chance after other work, as on another day
            rng=np.random.default_rng([sound.seed, *([len(sound.work)] if sound.work else [])]),
            a4_hz=settings.a4_hz,
            sample_rate_hz=SIMULATED_RATE_HZ,
            patient=False,
        )

    return make


def _melody_player(settings: PracticeSettings, melody: Score, sound: SoundSettings) -> SampleSource:
    notes = melody.notes
    next_starts_s = [*(note.start_s for note in notes[1:]), melody.duration_s]
    plan = [
        PlannedNote(
            midi=note.target.midi,
            sounding_s=TONGUED_SHARE * note.duration_s,
            rest_s=next_start_s - note.start_s - TONGUED_SHARE * note.duration_s,
        )
        for note, next_start_s in zip(notes, next_starts_s, strict=True)
    ]
    return simulated_player(
        SIMULATED_PLAYER,
        settings.recorder,
        plan,
        seed=sound.seed,
        recorder=_recorder_of(sound, settings.recorder),
        a4_hz=settings.a4_hz,
        lead_in_s=notes[0].start_s,
        sample_rate_hz=SIMULATED_RATE_HZ,
    )


def _paced(source: SampleSource, *, real_time: bool) -> SampleSource:
    return InRealTime(source, clock_s=time.monotonic) if real_time else source


def _quiet(sample_rate_hz: float, *, real_time: bool) -> Callable[[], SampleSource] | None:
    if not real_time:
        return None
    return lambda: _paced(Silence(sample_rate_hz), real_time=True)
