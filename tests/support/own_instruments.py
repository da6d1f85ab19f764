"""Two altos of one invented player, and notes held on them."""

from collections.abc import Sequence
from datetime import UTC, datetime

from intonation.heldnotes.row import HeldNoteRow
from intonation.instruments.own_instrument import OwnInstrument
from intonation.practice.settings import PracticeSettings
from intonation.store.store import Store

PEARWOOD = OwnInstrument(name="pearwood alto", size="alto")
SCHOOL = OwnInstrument(
    name="school alto 3", size="alto", fingering_system="german", a4_hz=442.0, remark="label inside"
)
EVENING = datetime(2031, 3, 14, 19, 30, tzinfo=UTC)


def play(
    store: Store,
    instrument: OwnInstrument,
    *,
    player: str = "wren",
    session: str = "evening",
    cents: Sequence[float] = (5.0,),
) -> None:
    """Keep a take on an instrument."""
    settings = PracticeSettings(
        player=player,
        instrument=instrument.name,
        size=instrument.size,
        fingering_system=instrument.fingering_system,
    )
    store.begin_session(session, player=player, instrument=instrument.name, began_at=EVENING)
    take = store.begin_take(session, settings=settings, began_at=EVENING)
    for order, value in enumerate(cents):
        row = HeldNoteRow(
            event=0,
            player=player,
            instrument=instrument.name,
            session=session,
            midi=69,
            cents=value,
            order=order,
        )
        store.add_held_note(row, take=take, held_at=EVENING)
