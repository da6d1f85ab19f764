"""A check without a clock: a simulated player answers as fast as it can be listened to."""

from collections.abc import Callable

from intonation.engine.connections import Connection
from intonation.engine.guided_check import GuidedCheck
from intonation.engine.messages import AskTone, CloseSound, StartCheck, ToneHeard
from intonation.engine.sound_engine import SoundEngine
from intonation.practice.settings import PracticeSettings


def play_check(guided: GuidedCheck, connect: Callable[[], Connection]) -> None:
    """Let a simulated player play a check to its end.

    Parameters
    ----------
    guided
        The check.
    connect
        Opens the way to a simulated player who does not wait for the clock.

    Raises
    ------
    StoreError
        If the store cannot be written.
    """
    settings = guided.checking.settings
    engine = SoundEngine(connect)
    engine.obey(
        StartCheck(
            PracticeSettings(player=settings.player, instrument=settings.size, a4_hz=settings.a4_hz)
        )
    )
    while not guided.checking.finished:
        if guided.checking.waiting:
            guided.go_on()
        engine.obey(AskTone(guided.checking.asked))
        for event in engine.listen():
            if isinstance(event, ToneHeard):
                guided.hear(event)
    engine.obey(CloseSound())
