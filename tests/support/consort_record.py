"""A record of two invented instruments, held so often that their common pitch is known."""

from intonation.heldnotes.row import HeldNoteRow
from intonation.store.store import Store

PLAYER = "wren"
UNEVEN_CENTS = (2.0, -1.0, 4.0, -3.0, 0.0, 6.0, -4.0, 1.0)
_MIDI = {"alto": range(67, 83, 2), "tenor": range(62, 78, 2)}
_SHARP_CENTS = {"alto": 4.0, "tenor": 16.0}


def consort_record() -> Store:
    """Return a record in which the tenor is twelve cents sharper than the alto."""
    store = Store(None)
    event = 0
    for name, notes in _MIDI.items():
        for day in range(2):
            for midi, uneven in zip(notes, UNEVEN_CENTS, strict=True):
                event += 1
                store.add_held_note(
                    HeldNoteRow(
                        event=event,
                        player=PLAYER,
                        instrument=name,
                        session=f"{name}, day {day}",
                        midi=midi,
                        order=event,
                        minutes=12.0,
                        temperature_c=20.0,
                        cents=_SHARP_CENTS[name] + uneven + 0.5 * (-1) ** (event + day),
                    )
                )
    return store
