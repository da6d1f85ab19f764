"""What could bring a note to its target, each remedy with what it is expected to leave over."""

from collections.abc import Iterator
from dataclasses import dataclass

from intonation.assessment.advice import Advice, Reason
from intonation.instruments.breath import breath_slopes
from intonation.instruments.instrument import Instrument

_BREATH_DOUBT = 0.3
_FINGER_PLACED_WITHIN = 0.08
_LEAST_SHADING_CENTS = 2.0
_ALTERNATIVE_DOUBT_CENTS = 12.0
_SLIT_DOUBT = 0.3
_LEAST_SLIT_CENTS = 5.0
"""How surely each remedy does what is expected of it (design judgement): a breath change is off by
a third, a finger covers 8 % of a hole too much or too little, an alternative fingering differs from
one instrument to the next by a dozen cents. Effects smaller than the least ones are not offered."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """An advice and how sure it is.

    Parameters
    ----------
    advice
        What to do and what it is expected to bring.
    doubt_cents
        How far its effect may be off.
    breath_free
        Whether breath is left to do the rest. A finger can be placed to fit, so shading should
        do without; a fingering or a thumb slit gives what it gives.
    """

    advice: Advice
    doubt_cents: float
    breath_free: bool = False

    @property
    def expected_miss_cents(self) -> float:
        """How far from the target the note is expected to end at worst."""
        left_cents = abs(self.advice.wanted_cents - self.advice.predicted_cents)
        if self.breath_free:
            left_cents = max(0.0, left_cents - breath_slopes().reach_cents)
        return left_cents + self.doubt_cents


def breath_remedy(
    wanted_cents: float,
    *,
    instrument: Instrument,
    midi: int,
    own_cents_per_db: float | None,
    reason: Reason,
) -> Remedy:
    """Return the change of breath that a note wants, as far as breath reaches.

    Parameters
    ----------
    wanted_cents
        Change that would bring the note to its target.
    instrument, midi
        The note; its register decides the common slope.
    own_cents_per_db
        The player's own slope on this note, believed if plausible.
    reason
        Key of the reason.
    """
    slopes = breath_slopes()
    reach_cents = slopes.reach_cents
    predicted_cents = min(max(wanted_cents, -reach_cents), reach_cents)
    second = instrument.in_second_register(midi)
    cents_per_db = slopes.believed(own_cents_per_db, second_register=second)
    advice = Advice(
        remedy="breath",
        wanted_cents=wanted_cents,
        predicted_cents=predicted_cents,
        breath_db=predicted_cents / cents_per_db,
        reason=reason,
    )
    return Remedy(advice, _BREATH_DOUBT * abs(predicted_cents))


def shading_remedies(wanted_cents: float, *, instrument: Instrument, midi: int) -> Iterator[Remedy]:
    """Yield every open hole of a sharp note with every share of it that can be covered.

    Nothing is yielded for a note that wants to be higher: shading only ever flattens.
    """
    if wanted_cents >= 0.0:
        return
    for shading in instrument.shadings(midi):
        reason = _shading_reason(shading.hole, instrument, midi)
        for covered, cents in zip(shading.covered, shading.cents, strict=True):
            if cents > -_LEAST_SHADING_CENTS:
                continue
            advice = Advice(
                remedy="shading",
                wanted_cents=wanted_cents,
                predicted_cents=cents,
                hole=shading.hole,
                covered_fraction=covered,
                reason=reason,
            )
            yield Remedy(advice, _FINGER_PLACED_WITHIN * abs(cents) / covered)


def _shading_reason(hole: str, instrument: Instrument, midi: int) -> Reason:
    slit = instrument.slit(midi)
    if slit is not None and slit.wide_cents >= _LEAST_SLIT_CENTS:
        return "thumb first"
    fingering = instrument.fingering(midi)
    first_open = fingering.open_fingers[0] if fingering and fingering.open_fingers else None
    return "coarse shading" if hole == first_open else "fine shading"


def fingering_remedies(
    wanted_cents: float, *, instrument: Instrument, midi: int
) -> Iterator[Remedy]:
    """Yield the alternative fingerings that move a note the way it wants to go."""
    note = instrument.chart_note(midi)
    for alternative in note.alternatives if note else ():
        if alternative.expected_cents * wanted_cents <= 0.0:
            continue
        advice = Advice(
            remedy="fingering",
            wanted_cents=wanted_cents,
            predicted_cents=alternative.expected_cents,
            fingering=alternative.fingering.text,
            reason="alternative fits",
        )
        yield Remedy(advice, _ALTERNATIVE_DOUBT_CENTS, breath_free=True)


def thumb_remedies(wanted_cents: float, *, instrument: Instrument, midi: int) -> Iterator[Remedy]:
    """Yield another thumb slit for a pinched note whose pitch follows the slit."""
    slit = instrument.slit(midi)
    if slit is None:
        return
    limit_cents = slit.wide_cents if wanted_cents > 0.0 else slit.narrow_cents
    if abs(limit_cents) < _LEAST_SLIT_CENTS:
        return
    advice = Advice(
        remedy="thumb",
        wanted_cents=wanted_cents,
        predicted_cents=min(wanted_cents, limit_cents, key=abs),
        hole="0",
        reason="slit too narrow" if wanted_cents > 0.0 else "slit too wide",
    )
    yield Remedy(advice, _SLIT_DOUBT * abs(advice.predicted_cents), breath_free=True)
