"""Practice without a clock: a source is listened to as fast as it can be."""

from collections.abc import Iterator

from intonation.engine.connecting import recording_connection, simulated_connection
from intonation.engine.connections import MakeSource, StandIn
from intonation.engine.messages import EngineEvent, SoundSettings
from intonation.engine.sound_engine import READ_S
from intonation.engine.take import Take
from intonation.errors import SetupError
from intonation.language import say
from intonation.practice.settings import PracticeSettings


def practise(
    settings: PracticeSettings, sound: SoundSettings, *, make_player: MakeSource | None = None
) -> Iterator[EngineEvent]:
    """Yield the events of one take, from its first sample to the end of the sound.

    Parameters
    ----------
    settings
        What is practised.
    sound
        A recording, or a simulated player.
    make_player
        Makes the simulated player from the settings and the reference; None for the usual one.

    Raises
    ------
    SoundFileError
        If the recording cannot be read.
    SettingsError
        If an instrument, temperament or voice is unknown.
    SetupError
        If the sound settings ask for a sound card.
    """
    connection = _connection(sound, make_player)
    take, begun = Take.begun(settings, connection, headphones=sound.headphones)
    yield connection.open()
    yield from begun
    while not connection.exhausted:
        yield from take.hear(connection.read(round(READ_S * connection.sample_rate_hz)))
    yield from take.ended()
    connection.close()


def _connection(sound: SoundSettings, make_player: MakeSource | None) -> StandIn:
    if sound.recording is not None:
        return recording_connection(sound, real_time=False)
    if sound.simulated:
        return simulated_connection(sound, real_time=False, make_player=make_player)
    raise SetupError(
        say("A sound card keeps its own time and cannot be hurried."),
        say("Choose a recording or the simulated player."),
    )
