"""The score of a phrase after it was played: how far each note was off, and where it stood."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean, pstdev

from intonation.assessment.bands import GOOD_CENTS
from intonation.assessment.melody_alignment import align
from intonation.assessment.scoring import ScoredNote, Target
from intonation.exercise.score import MelodyTarget, ScoreNote
from intonation.pitch.cents import cents_between
from intonation.tracking.events import HeldNote

OUTSIDE_THE_CHORD = "outside the chord"
ALONE = "alone"


@dataclass(frozen=True, slots=True)
class MelodyNoteScore:
    """One note of a melody and how it was played.

    Parameters
    ----------
    note
        What was to be played.
    held
        What was played as this note; empty if it was missed.
    cents
        Distance from its target, positive when sharp; None if it was missed.
    """

    note: ScoreNote
    held: tuple[HeldNote, ...]
    cents: float | None

    @property
    def place(self) -> str:
        """Where the note stood: see `place_of`."""
        return place_of(self.note.target)


@dataclass(frozen=True, slots=True)
class PlaceSummary:
    """All notes of a phrase that stood at one place of their chord or over their drone.

    Parameters
    ----------
    place
        For example ``"third"``, ``"fifth"`` or ``"outside the chord"``.
    mean_cents, spread_cents
        Mean deviation and standard deviation (0.0 for one note).
    count
        Number of notes.
    """

    place: str
    mean_cents: float
    spread_cents: float
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MelodyScore:
    """A phrase, or several, as played.

    Parameters
    ----------
    notes
        Every note that was to be played, in order.
    extra
        Held notes that belong to none of them.
    """

    notes: tuple[MelodyNoteScore, ...]
    extra: tuple[HeldNote, ...]

    @property
    def missed(self) -> tuple[ScoreNote, ...]:
        """The notes that were not played, or not recognisably."""
        return tuple(each.note for each in self.notes if each.cents is None)

    @property
    def window_cents(self) -> float | None:
        """Distance from the flattest to the sharpest note; None with no note played."""
        cents = [each.cents for each in self.notes if each.cents is not None]
        return max(cents) - min(cents) if cents else None

    @property
    def pulled(self) -> tuple[MelodyNoteScore, ...]:
        """The notes further from their target than 10 cents, farthest first."""
        astray = [each for each in self.notes if abs(each.cents or 0.0) > GOOD_CENTS]
        return tuple(sorted(astray, key=lambda each: -abs(each.cents or 0.0)))

    @property
    def places(self) -> tuple[PlaceSummary, ...]:
        """Means by place in the chord or interval over the drone, farthest from target first."""
        by_place: dict[str, list[float]] = {}
        for each in self.notes:
            if each.cents is not None:
                by_place.setdefault(each.place, []).append(each.cents)
        summaries = (_summary(place, cents) for place, cents in by_place.items())
        return tuple(sorted(summaries, key=lambda each: -abs(each.mean_cents)))


def score_melody(notes: Sequence[ScoreNote], held: Sequence[HeldNote]) -> MelodyScore:
    """Return how a melody was played.

    Parameters
    ----------
    notes
        What was to be played: a whole score's notes, or those of one phrase.
    held
        What was played, in order; times from the same start.
    """
    alignment = align(notes, held)
    return MelodyScore(
        notes=tuple(
            MelodyNoteScore(note, played, _cents(played, note.target))
            for note, played in zip(notes, alignment.played, strict=True)
        ),
        extra=alignment.extra,
    )


def place_of(target: MelodyTarget) -> str:
    """Return where a note stands: its place in the chord, its interval, or that it is alone."""
    if target.chord is not None:
        return target.member or OUTSIDE_THE_CHORD
    return target.interval or ALONE


def scored_melody_notes(score: MelodyScore) -> Iterable[ScoredNote]:
    """Return every held note with its target, for the record that all statistics are made of."""
    for each in score.notes:
        for held in each.held:
            target = each.note.target
            cents = cents_between(held.f0_hz, target_hz=target.hz)
            yield ScoredNote(held, plain_target(target), cents)


def plain_target(target: MelodyTarget) -> Target:
    """Return a melody's target in the form in which targets are kept; pure ones say so."""
    tuning = target.tuning if target.origin == "temperament" else "pure"
    return Target(target.midi, target.hz, target.interval, target.over_midi, tuning)


def _cents(played: Sequence[HeldNote], target: MelodyTarget) -> float | None:
    """Return the mean deviation, longer parts of a broken note counting for more."""
    if not played:
        return None
    total_s = sum(held.duration_s for held in played)
    return (
        sum(held.duration_s * cents_between(held.f0_hz, target_hz=target.hz) for held in played)
        / total_s
    )


def _summary(place: str, cents: Sequence[float]) -> PlaceSummary:
    return PlaceSummary(place, fmean(cents), pstdev(cents), len(cents))
