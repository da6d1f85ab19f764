"""Keeps held notes one after another and prints each number once it is kept, until it is killed.

Run as a module with the path of the record. The number of each note in its session stands in its
``order``, so that a lost one would be missed.
"""

import sys
from itertools import count
from pathlib import Path

from intonation.heldnotes.row import HeldNoteRow
from intonation.store.store import Store

if __name__ == "__main__":
    store = Store(Path(sys.argv[1]))
    for number in count(1):
        row = HeldNoteRow(
            event=0,
            player="wren",
            instrument="alto",
            session="evening",
            midi=65 + number % 24,
            order=number,
            cents=0.25 * (number % 40),
        )
        store.add_held_note(row)
        print(number, flush=True)
