"""Which instrument an option names: one of the record by its own name, or a size."""

from pathlib import Path

from intonation.engine.instrument_desk import InstrumentDesk
from intonation.instruments.instrument import Instrument
from intonation.instruments.own_instrument import OwnInstrument, recorder, size_that_is_named
from intonation.store.opening import open_for_reading
from intonation.store.places import record_path
from intonation.store.store import Store


def name_on_record(store: Store, name: str | None) -> str | None:
    """Return the name of an instrument as the record has it, for a name as it was typed.

    Raises
    ------
    SettingsError
        If there is no such instrument; the sentence offers the nearest names.
    """
    return None if name is None else InstrumentDesk(store.instruments).found(name).name


def recorder_on_record(store: Store, name: str) -> Instrument:
    """Return an instrument of the record, or one of a size, with its compass and fingerings."""
    return _recorder_of(InstrumentDesk(store.instruments).meant(name))


def instrument_asked_for(name: str, *, record: Path | None = None) -> OwnInstrument:
    """Return an instrument of the player's practice record, or one of a size.

    Raises
    ------
    SettingsError
        If there is no such instrument, or its size is not known.
    """
    size = size_that_is_named(name)
    if size is not None:
        return OwnInstrument(name=size, size=size)
    with open_for_reading(record or record_path()).store as store:
        return InstrumentDesk(store.instruments).meant(name)


def recorder_asked_for(name: str) -> Instrument:
    """Return the same with its compass and fingerings."""
    return _recorder_of(instrument_asked_for(name))


def _recorder_of(instrument: OwnInstrument) -> Instrument:
    return recorder(
        instrument.name, size=instrument.size, fingering_system=instrument.fingering_system
    )
