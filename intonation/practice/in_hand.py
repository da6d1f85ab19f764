"""What changes in a player's choices when another instrument is taken in hand."""

from dataclasses import replace

from intonation.instruments.own_instrument import OwnInstrument, size_that_is_named
from intonation.practice.settings import PracticeSettings

STANDARD_A4_HZ = 440.0
"""The standard of ISO 16, to which an instrument without a pitch of its own is tuned."""


def taken_in_hand(
    settings: PracticeSettings, instrument: OwnInstrument, *, left: OwnInstrument | None = None
) -> PracticeSettings:
    """Return the choices with an instrument, at its own pitch if it has one.

    Parameters
    ----------
    settings
        The choices before.
    instrument
        An instrument of known size.
    left
        The one that is put down; where its own pitch was in use, the standard pitch comes back.
    """
    before = None if left is None else left.a4_hz
    usual = STANDARD_A4_HZ if before == settings.a4_hz else settings.a4_hz
    by_name = size_that_is_named(instrument.name) is not None
    return replace(
        settings,
        instrument=instrument.name,
        size=None if by_name else instrument.size,
        fingering_system=instrument.fingering_system,
        a4_hz=instrument.a4_hz or usual,
    )
