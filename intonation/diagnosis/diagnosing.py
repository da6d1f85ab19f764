"""From held notes to a diagnosis of every player on every instrument."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.attribution import Attribution, Progress, attribution_of, unwatched
from intonation.diagnosis.disagreeing_days import DOUBT
from intonation.diagnosis.evidence import Evidence, evidence_from
from intonation.diagnosis.knowable import Knowable, knowable_from
from intonation.diagnosis.overall import overall_of, overall_pitch
from intonation.diagnosis.parts import Interval, Parts, interval, parts_of
from intonation.diagnosis.planner import next_experiments
from intonation.diagnosis.results import Lack, NextExperiment, NoteDiagnosis, PairDiagnosis
from intonation.diagnosis.store_fit import StoreFit, store_fit_of
from intonation.diagnosis.verdict import TOLERANCE_CENTS, Verdict, probabilities, verdict_of
from intonation.heldnotes.row import HeldNoteRow

FEWEST_NOTES = 5
"""Every note is judged by its place among the others; fewer say nothing about one of them."""
MOST_READINGS = 340
"""More than this are reduced to sums first; the result is the same but for its finest points."""
MOST_PAIRS_PLANNED = 12
"""In a larger store nobody is told what to play next: it would take too long."""

_BLAMES = ("instrument", "player", "both")
_SILENCING: frozenset[Lack | None] = frozenset(
    {"other notes", "tone without reference", "agreeing days"}
)
"""Without these even "in tune" and "partly" would say too much."""


@dataclass(frozen=True, slots=True)
class _Case:
    """One pair: parts, indices, overall pitch, what can be known, notes whose days disagree."""

    parts: Parts
    player: int
    instrument: int
    pitch: Interval
    knowable: Knowable
    evidence: Evidence
    contradicted: frozenset[int] = frozenset()


def diagnose(
    rows: Iterable[HeldNoteRow],
    *,
    changed: Collection[str] = frozenset(),
    tolerance_cents: float = TOLERANCE_CENTS,
    progress: Progress = unwatched,
) -> tuple[PairDiagnosis, ...]:
    """Return the diagnosis of every pair of player and instrument.

    Parameters
    ----------
    rows
        Held notes of any players and instruments; whoever shares one informs the others.
    changed
        Sessions after an adjustment; the diagnosis is of the instrument before it.
    tolerance_cents
        How far from its place among the others a note may be to be in tune.
    progress
        Called with the share that is done; an exception from it cancels.
    """
    groups = connected(rows)
    found: list[PairDiagnosis] = []
    for done, group in enumerate(groups):

        def onwards(share: float, done: int = done) -> None:
            progress((done + share) / len(groups))

        evidence = evidence_from(group, changed=changed)
        if len(evidence.readings) > MOST_READINGS:
            found += _from_store(store_fit_of(evidence, progress=onwards), tolerance_cents)
        elif len(evidence.readings):
            found += _from_few(attribution_of(evidence, progress=onwards), tolerance_cents)
    return tuple(found)


def connected(rows: Iterable[HeldNoteRow]) -> list[list[HeldNoteRow]]:
    """Return rows in groups that have no player and no instrument in common."""
    by_pair: dict[tuple[str, str], list[HeldNoteRow]] = defaultdict(list)
    for row in rows:
        by_pair[row.player, row.instrument].append(row)
    groups: list[tuple[set[tuple[str, str]], list[tuple[str, str]]]] = []
    for player, instrument in by_pair:
        names = {("player", player), ("instrument", instrument)}
        joined = [group for group in groups if group[0] & names]
        groups = [group for group in groups if not group[0] & names]
        everyone = names.union(*(group[0] for group in joined))
        pairs = [pair for group in joined for pair in group[1]]
        groups.append((everyone, [*pairs, (player, instrument)]))
    return [[row for pair in pairs for row in by_pair[pair]] for _, pairs in groups]


def _from_few(fit: Attribution, tolerance_cents: float) -> Iterator[PairDiagnosis]:
    knowable = knowable_from(fit.evidence, fit.bending)
    pairs = np.unique(np.stack([fit.ideal.player, fit.ideal.instrument], axis=1), axis=0)
    for player, instrument in pairs.tolist():
        parts = parts_of(fit, player=player, instrument=instrument)
        pitch = overall_pitch(fit, player=player, instrument=instrument)
        contradicted = contradicted_notes(fit, player, instrument)
        case = _Case(parts, player, instrument, pitch, knowable, fit.evidence, contradicted)
        yield _pair(case, _with_next(_notes(case, tolerance_cents), fit, parts, tolerance_cents))


def _with_next(
    notes: Sequence[NoteDiagnosis], fit: Attribution, parts: Parts, tolerance_cents: float
) -> list[NoteDiagnosis]:
    """Return notes with what to play next for the open ones, as far as a fit knows these."""
    if len(notes) < FEWEST_NOTES:
        return list(notes)
    places = {(note.midi, note.fingering): i for i, note in enumerate(parts.notes)}
    undecided = [places.get((n.midi, n.fingering)) for n in notes if _is_open(n.verdict)]
    following = next_experiments(
        fit,
        parts,
        open_notes=[place for place in undecided if place is not None],
        tolerance_cents=tolerance_cents,
    )
    return [
        replace(n, next=_helpful(n, following.get(places.get((n.midi, n.fingering), -1), ())))
        for n in notes
    ]


def _helpful(
    note: NoteDiagnosis, options: tuple[NextExperiment, ...]
) -> tuple[NextExperiment, ...]:
    """Return the options that can settle a note: without a swell no plain tone can."""
    if note.lacks != "swell":
        return options
    return tuple(option for option in options if option.experiment != "natural")


def contradicted_notes(fit: Attribution, player: int, instrument: int) -> frozenset[int]:
    """Return the notes of a pair of which half of the days, or more, contradict each other."""
    seen = fit.evidence.readings
    own = (seen.player == player) & (seen.instrument == instrument)
    days = np.unique(np.stack([seen.note[own], seen.day[own]], axis=1), axis=0)
    heard = Counter(note for note, _ in days.tolist())
    doubted = Counter(
        note for note, day in days.tolist() if fit.easing.days.get((day, note), 0.0) > DOUBT
    )
    return frozenset(note for note, count in doubted.items() if 2 * count >= heard[note])


def _from_store(fit: StoreFit, tolerance_cents: float) -> Iterator[PairDiagnosis]:
    knowable = knowable_from(fit.evidence, fit.bending)
    for pair in fit.pairs:
        parts = fit.parts_of(pair)
        pitch = fit.pitch_of(pair)
        contradicted = fit.contradicted_notes(pair)
        case = _Case(
            parts, pair.player, pair.instrument, pitch, knowable, fit.evidence, contradicted
        )
        notes = _notes(case, tolerance_cents)
        if len(fit.pairs) <= MOST_PAIRS_PLANNED:
            checks = attribution_of(fit.checks_of(pair))
            of_checks = parts_of(checks, player=pair.player, instrument=pair.instrument)
            notes = _with_next(notes, checks, of_checks, tolerance_cents)
        yield _pair(case, notes)


def _pair(case: _Case, notes: Sequence[NoteDiagnosis]) -> PairDiagnosis:
    return PairDiagnosis(
        player=case.parts.player,
        instrument=case.parts.instrument,
        overall=overall_of(case.parts, case.pitch),
        notes=tuple(notes),
    )


def _is_open(verdict: Verdict) -> bool:
    return verdict.startswith(("at least", "not enough"))


_ASKED = np.array([[1, 1, 1], [1, 0, 0], [0, 1, 1], [0, 1, 0], [0, 0, 1]], dtype=float)
"""What is told of a note, by its instrument, breath and fingers."""


def _notes(case: _Case, tolerance_cents: float) -> list[NoteDiagnosis]:
    return [_note(case, i, tolerance_cents) for i in range(len(case.parts.notes))]


def _note(case: _Case, index: int, tolerance_cents: float) -> NoteDiagnosis:
    mixture = case.parts.of_notes[index]
    middles, spreads = (each.tolist() for each in mixture.moments(_ASKED))
    total, instrument, player, breath, habit = map(interval, middles, spreads)
    parts, knowable = case.parts, case.knowable
    note = case.evidence.axes.notes.index(parts.notes[index])
    chances = probabilities(parts.pairs_of(index), tolerance_cents=tolerance_cents)
    verdict = verdict_of(chances)
    lacks = _lack(case, note)
    if lacks in _SILENCING or (lacks is not None and verdict in _BLAMES):
        verdict = "not enough evidence"
    bends = knowable.bends.get((case.instrument, note))
    return NoteDiagnosis(
        midi=parts.notes[index].midi,
        fingering=parts.notes[index].fingering,
        total=total,
        instrument=instrument,
        player=player,
        breath=breath if bends else None,
        habit=habit if bends else None,
        cents_per_db=bends,
        verdict=verdict,
        probabilities=chances,
        lacks=lacks if _is_open(verdict) else None,
    )


def _lack(case: _Case, note: int) -> Lack | None:
    if len(case.parts.notes) < FEWEST_NOTES:
        return "other notes"
    if note in case.contradicted:
        return "agreeing days"
    if (case.player, case.instrument, note) not in case.knowable.unaided:
        return "tone without reference"
    told_apart = case.knowable.is_told_apart(case.player, case.instrument, note)
    return None if told_apart else "swell"
