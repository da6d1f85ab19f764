"""Which held note belongs to which note of a melody: matched by order, pitch and time."""

from collections.abc import Sequence
from dataclasses import dataclass

from intonation.exercise.score import ScoreNote
from intonation.pitch.cents import cents_between
from intonation.tracking.events import HeldNote

SAME_NOTE_CENTS = 75.0
"""A held note further than this from a target is another note (design judgement)."""

_MISSED, _EXTRA = 1.0, 0.7
_LATE_S = 2.0
_FARTHEST = 0.4


@dataclass(frozen=True, slots=True)
class Alignment:
    """What was played of a melody.

    Parameters
    ----------
    played
        For every note of the melody the held notes that are it: none if it was missed, several if
        it broke in two. A held note that sounds through two equal notes belongs to both.
    extra
        Held notes that are no note of the melody.
    """

    played: tuple[tuple[HeldNote, ...], ...]
    extra: tuple[HeldNote, ...]


def align(notes: Sequence[ScoreNote], held: Sequence[HeldNote]) -> Alignment:
    """Return which held notes are which notes of a melody.

    Parameters
    ----------
    notes
        The melody, in order.
    held
        What was played, in order, its times counted from the same start as the melody's.

    Notes
    -----
    Least-cost alignment of two sequences (S. B. Needleman & C. D. Wunsch, J. Mol. Biol. 48 (1970)
    443; from memory). Lateness costs little and no more beyond two seconds, so that a player who
    takes time is followed by the order of the notes.
    """
    pairs = _matched_pairs(notes, held)
    played: list[tuple[HeldNote, ...]] = [
        (held[pairs[place]],) if place in pairs else () for place in range(len(notes))
    ]
    used = set(pairs.values())
    extra = [note for place, note in enumerate(held) if place not in used]
    played = _shared_between_equals(notes, played)
    return _with_broken_notes(notes, played, extra)


def _matched_pairs(notes: Sequence[ScoreNote], held: Sequence[HeldNote]) -> dict[int, int]:
    """Return the place of the held note by the place of its melody note."""
    rows, columns = len(notes), len(held)
    cost = [[_EXTRA * column for column in range(columns + 1)]]
    for row in range(1, rows + 1):
        line = [_MISSED * row]
        for column in range(1, columns + 1):
            apart = _distance(notes[row - 1], held[column - 1])
            line.append(
                min(
                    cost[row - 1][column - 1] + apart,
                    cost[row - 1][column] + _MISSED,
                    line[column - 1] + _EXTRA,
                )
            )
        cost.append(line)
    return _way_back(cost, notes, held)


def _way_back(
    cost: Sequence[Sequence[float]], notes: Sequence[ScoreNote], held: Sequence[HeldNote]
) -> dict[int, int]:
    pairs: dict[int, int] = {}
    row, column = len(notes), len(held)
    while row and column:
        here = cost[row][column]
        if here == cost[row - 1][column - 1] + _distance(notes[row - 1], held[column - 1]):
            row, column = row - 1, column - 1
            pairs[row] = column
        elif here == cost[row - 1][column] + _MISSED:
            row -= 1
        else:
            column -= 1
    return pairs


def _distance(note: ScoreNote, held: HeldNote) -> float:
    if not _is_note(note, held):
        return _MISSED + _EXTRA + 1.0
    return _FARTHEST * min(abs(held.onset_s - note.start_s) / _LATE_S, 1.0)


def _is_note(note: ScoreNote, held: HeldNote) -> bool:
    return abs(cents_between(held.f0_hz, target_hz=note.target.hz)) <= SAME_NOTE_CENTS


def _shared_between_equals(
    notes: Sequence[ScoreNote], played: Sequence[tuple[HeldNote, ...]]
) -> list[tuple[HeldNote, ...]]:
    """Give a missed note the held note of an equal neighbour that sounds through it."""
    shared = list(played)
    for place, note in enumerate(notes):
        for neighbour in (place - 1, place + 1):
            if shared[place] or not 0 <= neighbour < len(notes) or not shared[neighbour]:
                continue
            sounding = shared[neighbour][-1 if neighbour < place else 0]
            if notes[neighbour].target.midi == note.target.midi and _covers(sounding, note):
                shared[place] = (sounding,)
    return shared


def _covers(held: HeldNote, note: ScoreNote) -> bool:
    together = min(held.offset_s, note.end_s) - max(held.onset_s, note.start_s)
    return together >= note.duration_s / 2


def _with_broken_notes(
    notes: Sequence[ScoreNote], played: Sequence[tuple[HeldNote, ...]], extra: Sequence[HeldNote]
) -> Alignment:
    """Give a note the held notes left over that are at its pitch and within its time."""
    joined, left = [list(each) for each in played], []
    for held in extra:
        middle_s = (held.onset_s + held.offset_s) / 2
        owner = next(
            (p for p, n in enumerate(notes) if n.start_s <= middle_s < n.end_s and joined[p]
             and _is_note(n, held)), None,
        )  # fmt: skip
        if owner is None:
            left.append(held)
        else:
            joined[owner] = sorted([*joined[owner], held], key=lambda each: each.onset_s)
    return Alignment(tuple(tuple(each) for each in joined), tuple(left))
