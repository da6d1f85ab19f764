"""A record of one player on an alto with a fault and on a sharp tenor, for the documents."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from intonation.instruments.own_instrument import OwnInstrument
from intonation.store.store import Store
from tests.support.faulty_alto import NAME, faulty_alto

EVENING = datetime(2031, 3, 14, 19, 0, tzinfo=UTC)
ALTO_TO_TENOR = -5
SHARP_CENTS = 14.0


def keep_two_instruments(path: Path) -> None:
    """Keep an instrument check on each of them; all sizes are invented for simulation."""
    alto = faulty_alto(3, wide_cents=24.0).check("first day", "AB")
    pattern = faulty_alto(5, wide_cents=6.0).check("second day", "AB")
    tenor = [
        replace(
            row, instrument="tenor", midi=row.midi + ALTO_TO_TENOR, cents=row.cents + SHARP_CENTS
        )
        for row in pattern
    ]
    with Store(path) as store:
        store.instruments.keep(OwnInstrument(name=NAME, size="alto"))
        for row in (*alto, *tenor):
            store.add_held_note(row, held_at=EVENING)
