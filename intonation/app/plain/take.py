"""A take against the drone in plain lines: each note when it has ended, then the whole."""

from intonation.app.plain import words
from intonation.app.plain.inbox import Typed
from intonation.app.plain.stand import PlainStand, is_over
from intonation.engine.messages import EndTake, EngineEvent, StartTake
from intonation.practice.events import NoteIgnored, NoteScored, PhaseChanged, TakeEnded
from intonation.practice.settings import PracticeSettings
from intonation.words.advice import what_to_do
from intonation.words.note_card import headline, ignored_in_words
from intonation.words.phases import phase_in_words
from intonation.words.take import summary_lines


def play_take(stand: PlainStand, settings: PracticeSettings | None = None) -> bool:
    """Sound the drone and score what is held against it, until Enter is pressed.

    Parameters
    ----------
    stand
        Says and asks.
    settings
        What to play with; None takes what the player has chosen.

    Returns
    -------
    bool
        Whether a note was held.
    """
    settings, was_played = settings or stand.settings, False
    stand.try_to(lambda: stand.surroundings.begin_take(settings))
    stand.say(words.TAKE_KEYS)
    stand.command(StartTake(settings))
    for arrived in stand.arrivals():
        if isinstance(arrived, Typed):
            if not stand.turn_loudness(arrived.line or ""):
                stand.link.send(EndTake())
        elif isinstance(arrived, TakeEnded):
            stand.say(*summary_lines(arrived.summary))
            was_played = bool(arrived.summary.notes)
            break
        elif is_over(arrived):
            break
        else:
            stand.say(*_in_lines(arrived))
    stand.try_to(stand.surroundings.end_take)
    return was_played


def _in_lines(event: EngineEvent) -> tuple[str, ...]:
    """Return what to say of an event of a take; nothing of what goes on while a note sounds."""
    match event:
        case PhaseChanged("listen first"):
            return (phase_in_words("listen first"), phase_in_words("your turn"))
        case NoteScored(number, scored, advice):
            return (words.note(number, headline(scored)), what_to_do(advice))
        case NoteIgnored():
            return (ignored_in_words(event),)
    return ()
