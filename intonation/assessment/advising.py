"""The one piece of advice for a held note: the remedy that is expected to leave the least."""

from itertools import chain

from intonation.assessment.advice import Advice, Reason
from intonation.assessment.bands import EXCELLENT_CENTS
from intonation.assessment.remedies import (
    Remedy,
    breath_remedy,
    fingering_remedies,
    shading_remedies,
    thumb_remedies,
)
from intonation.assessment.scoring import ScoredNote
from intonation.instruments.breath import breath_slopes
from intonation.instruments.instrument import Instrument

_UNSTEADY_CENTS = 6.0
_SINKING_CENTS_PER_S = -3.0
_SINKING_CENTS = 3.0
_SPENT: frozenset[Reason] = frozenset({"soft already", "loud already"})


_FROM_NEIGHBOURS_DB = 4.0
"""A note so much softer or louder than its neighbours has no breath left that way (judgement)."""


def advise(
    scored: ScoredNote, *, instrument: Instrument, usual_level_db: float | None = None
) -> Advice:
    """Return what to change so that this note comes nearer to its target.

    Parameters
    ----------
    scored
        The held note; its own cents per dB is used where it was measured.
    instrument
        Whose fingerings and shadings can be advised.
    usual_level_db
        Level of the take's notes near this one; None if unknown.

    Notes
    -----
    Within 5 cents nothing is advised. A note that wavers by more than half of its deviation is to
    be steadied first (from 6 cents on, a design judgement; vibrato is no wavering). Within the
    reach of breath the advice is breath, unless a sharp note is much softer than its neighbours
    already, or a flat one louder: more of that would cost tone. Beyond it every remedy is weighed
    by what it would leave over plus its own doubt, and the smallest wins; breath may do the rest of
    another fingering or thumb slit. A flat note is never shaded, since shading only flattens.
    """
    wanted_cents = -scored.cents
    if abs(wanted_cents) <= EXCELLENT_CENTS:
        return Advice(remedy="nothing", wanted_cents=wanted_cents, reason="in tune")
    if _too_unsteady(scored):
        return Advice(remedy="steadiness", wanted_cents=wanted_cents, reason="unsteady")
    breath = breath_remedy(
        wanted_cents,
        instrument=instrument,
        midi=scored.target.midi,
        own_cents_per_db=scored.held.cents_per_db,
        reason=_breath_reason(scored, usual_level_db),
    )
    spent = breath.advice.reason in _SPENT
    if abs(wanted_cents) <= breath_slopes().reach_cents and not spent:
        return breath.advice
    if spent:
        breath = _left_alone(breath)
    others = _other_remedies(wanted_cents, instrument=instrument, midi=scored.target.midi)
    return min([breath, *others], key=lambda remedy: remedy.expected_miss_cents).advice


def _left_alone(breath: Remedy) -> Remedy:
    """Return the advice to leave the breath as it is, for the same reason."""
    wanted_cents, reason = breath.advice.wanted_cents, breath.advice.reason
    return Remedy(Advice(remedy="nothing", wanted_cents=wanted_cents, reason=reason), 0.0)


def _other_remedies(wanted_cents: float, *, instrument: Instrument, midi: int) -> list[Remedy]:
    return list(
        chain(
            thumb_remedies(wanted_cents, instrument=instrument, midi=midi),
            shading_remedies(wanted_cents, instrument=instrument, midi=midi),
            fingering_remedies(wanted_cents, instrument=instrument, midi=midi),
        )
    )


def _too_unsteady(scored: ScoredNote) -> bool:
    """Whether a note without vibrato wavers so much that its deviation means little."""
    if scored.held.vibrato_hz is not None:
        return False
    return scored.held.sd_cents > max(_UNSTEADY_CENTS, abs(scored.cents) / 2.0)


def _breath_reason(scored: ScoredNote, usual_level_db: float | None) -> Reason:
    """Say whether breath suffices, and whether a flat note went flat because it sank."""
    if usual_level_db is not None:
        louder_db = scored.held.level_db - usual_level_db
        if scored.cents > 0.0 and louder_db <= -_FROM_NEIGHBOURS_DB:
            return "soft already"
        if scored.cents < 0.0 and louder_db >= _FROM_NEIGHBOURS_DB:
            return "loud already"
    if abs(scored.cents) > breath_slopes().reach_cents:
        return "too sharp for breath" if scored.cents > 0.0 else "too flat for breath"
    drift = scored.held.drift_cents_per_s
    fell_cents = -drift * scored.held.duration_s
    if scored.cents < 0.0 and drift <= _SINKING_CENTS_PER_S and fell_cents >= _SINKING_CENTS:
        return "sinking"
    return "within breath"
