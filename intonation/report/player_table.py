"""Players and their instruments as tables for reading, and players compared on one instrument."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import fmean

from intonation.assessment.summary import NoteSummary
from intonation.language import say
from intonation.pitch.notes import note_name
from intonation.report.cells import number, signed
from intonation.report.table import Column, table_lines
from intonation.words.instruments import named_with_size

_PAIRS = (
    Column(say("player"), numeric=False),
    Column(say("instrument"), numeric=False),
    Column(say("sittings")),
    Column(say("held notes")),
    Column(say("first"), numeric=False),
    Column(say("last"), numeric=False),
)
MOST_COMPARED = 6
"""So many columns fit a page, and so many marks can be told apart."""

_FIRST = 4
_SHORT = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class PairRow:
    """One player on one instrument.

    Parameters
    ----------
    player, instrument
        Names.
    sittings, held_notes
        How much is kept.
    first_at, last_at
        When it was first and last played; None if unknown.
    size
        The instrument's size; None if unknown.
    """

    player: str
    instrument: str
    sittings: int
    held_notes: int
    first_at: datetime | None
    last_at: datetime | None
    size: str | None = None


def pair_lines(pairs: Iterable[PairRow], *, width: int | None = None) -> Iterator[str]:
    """Yield every player with every instrument.

    Parameters
    ----------
    pairs
        Who played what.
    width
        So many characters a line may have: where they are too few, the first day is left out and
        names are cut. None leaves everything as it is.
    """
    rows = [pair_cells(pair) for pair in pairs]
    lines = list(table_lines(_PAIRS, rows))
    if width is None or len(lines[1]) <= width:
        return iter(lines)
    without_first = [(*row[:_FIRST], *row[_FIRST + 1 :]) for row in rows]
    columns = (*_PAIRS[:_FIRST], *_PAIRS[_FIRST + 1 :])
    too_many = len(list(table_lines(columns, without_first))[1]) - width
    return table_lines(columns, _with_short_names(without_first, too_many))


def _with_short_names(rows: Sequence[tuple[str, ...]], too_many: int) -> Iterator[tuple[str, ...]]:
    """Yield rows whose names of players and instruments are together so much shorter."""
    players, instruments = (max(len(row[at]) for row in rows) for at in (0, 1))
    room = max(players + instruments - max(too_many, 0), 2)
    least = len(_PAIRS[1].heading)
    for_players = max(min(players, room // 2, room - least), room - instruments, 1)
    for player, instrument, *others in rows:
        yield _cut(player, for_players), _cut(instrument, room - for_players), *others


def _cut(name: str, width: int) -> str:
    return name if len(name) <= width else f"{name[: width - 1]}…"


def pair_cells(pair: PairRow) -> tuple[str, ...]:
    """Return the row of a player on an instrument."""
    return (
        pair.player,
        named_with_size(pair.instrument, pair.size),
        str(pair.sittings),
        str(pair.held_notes),
        _day(pair.first_at),
        _day(pair.last_at),
    )


def compared_lines(players: Mapping[str, tuple[NoteSummary, ...]]) -> Iterator[str]:
    """Yield every note's mean cents by player, the highest first, and how far they lie apart.

    Parameters
    ----------
    players
        By name, the means of every note; of more than six the first six are shown.
    """
    shown = dict(list(players.items())[:MOST_COMPARED])
    by_note = {name: {n.midi: n.mean_cents for n in notes} for name, notes in shown.items()}
    every = sorted({midi for of in by_note.values() for midi in of}, reverse=True)
    columns = (
        Column(say("note"), numeric=False),
        *(Column(_shortened(name)) for name in shown),
        Column(say("apart")),
    )
    rows = [_compared_cells(midi, [of.get(midi) for of in by_note.values()]) for midi in every]
    yield from table_lines(columns, [*rows, _off_cells(by_note)])


def _compared_cells(midi: int, cents: list[float | None]) -> tuple[str, ...]:
    known = [value for value in cents if value is not None]
    apart = max(known) - min(known) if len(known) > 1 else None
    return (note_name(midi), *(signed(value) for value in cents), number(apart))


def _off_cells(by_note: Mapping[str, Mapping[int, float]]) -> tuple[str, ...]:
    """Return how far from its target a note is on average, for each player."""
    off = [fmean(map(abs, of.values())) if of else None for of in by_note.values()]
    return (say("off by"), *(number(value) for value in off), "")


def _shortened(name: str) -> str:
    return name if len(name) <= _SHORT else f"{name[: _SHORT - 1]}…"


def _day(moment: datetime | None) -> str:
    return "–" if moment is None else f"{moment.astimezone():%Y-%m-%d}"
