"""What an instrument is, in words: its size, its fingering, its pitch."""

from intonation.instruments.own_instrument import OwnInstrument, size_within
from intonation.language import name_in_words, say


def system_in_words(system: str) -> str:
    """Return a fingering system's name."""
    return {
        "baroque": say("baroque fingering"),
        "german": say("German fingering"),
        "historic": say("historic fingering"),
    }[system]


def described(instrument: OwnInstrument) -> str:
    """Return what an instrument is, such as "alto, German fingering, A4 = 442 Hz"."""
    size = say("size not known") if instrument.size is None else name_in_words(instrument.size)
    known = [size, system_in_words(instrument.fingering_system)]
    if instrument.a4_hz is not None:
        known.append(say("A4 = {a4_hz} Hz", a4_hz=f"{instrument.a4_hz:g}"))
    return ", ".join(known)


def named_with_size(name: str, size: str | None) -> str:
    """Return an instrument's name, with its size after it where the name does not speak of it."""
    if size is None or size_within(name) == size:
        return name
    return say("{name} ({size})", name=name, size=name_in_words(size))
