"""A player's instruments as print: one to a line, the one in hand marked."""

from collections.abc import Sequence

from textual.content import Content

from intonation.app import instrument_words as words
from intonation.app.printing.inks import SOFT, STRONG, TEXT
from intonation.instruments.own_instrument import OwnInstrument
from intonation.language import name_in_words
from intonation.words.instruments import system_in_words

_NAME_WIDTH, _SIZE_WIDTH, _SYSTEM_WIDTH, _PITCH_WIDTH = 24, 11, 19, 8


def instrument_list(own: Sequence[OwnInstrument], *, in_hand: str, width: int) -> list[Content]:
    """Return every instrument with its size, its fingering, its pitch and the remark on it.

    Parameters
    ----------
    own
        The player's instruments.
    in_hand
        Name of the one that is marked.
    width
        So many columns there are.
    """
    if not own:
        return []
    heading = Content.styled(words.YOURS, SOFT)
    return [heading, *(_line(one, one.name == in_hand, width) for one in own)]


def _line(instrument: OwnInstrument, marked: bool, width: int) -> Content:
    size = name_in_words(instrument.size or "")
    pitch = "" if instrument.a4_hz is None else f"{instrument.a4_hz:g} Hz"
    system = system_in_words(instrument.fingering_system)
    line = Content.assemble(
        (f"{'▸' if marked else ' '} ", STRONG),
        (_cut(instrument.name, _NAME_WIDTH), STRONG if marked else TEXT),
        (f"{size:<{_SIZE_WIDTH}}{system:<{_SYSTEM_WIDTH}}{pitch:<{_PITCH_WIDTH}}", TEXT),
        (instrument.remark, SOFT),
    )
    return line.truncate(width, ellipsis=True)


def _cut(name: str, width: int) -> str:
    shown = name if len(name) < width else f"{name[: width - 2]}…"
    return f"{shown:<{width}}"
