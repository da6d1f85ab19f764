"""Joins the list of players to the practice record: who there is, compared on an instrument."""

from intonation.assessment.summary import NoteSummary
from intonation.report.player_table import PairRow
from intonation.store.sittings import Sittings
from intonation.store.store import Store


def pairs_in(store: Store) -> tuple[PairRow, ...]:
    """Return every player with every instrument, who held most notes first."""
    return tuple(
        PairRow(
            player=pair.player,
            instrument=pair.instrument,
            sittings=pair.sittings,
            held_notes=pair.held_notes,
            first_at=pair.first_at,
            last_at=pair.last_at,
        )
        for pair in Sittings(store.database).pairs()
    )


def compared_on(store: Store, instrument: str) -> dict[str, tuple[NoteSummary, ...]]:
    """Return every player's means on an instrument, who held most notes first."""
    sittings = Sittings(store.database)
    means = {
        pair.player: sittings.means(player=pair.player, instrument=instrument)
        for pair in sittings.pairs()
        if pair.instrument == instrument
    }
    return {player: notes for player, notes in means.items() if notes}
