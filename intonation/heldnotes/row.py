"""One held note as it is kept, counted and exchanged."""

from dataclasses import dataclass
from typing import Literal

Kind = Literal["natural", "careful", "swell", "careful-swell", "matched", "melody"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldNoteRow:
    """One row of the held-note table. None means unknown.

    Parameters
    ----------
    event
        Running number, unique in a file or store.
    player, instrument, session
        Identifiers in free text; a session is one sitting with one microphone position.
    midi
        Sounding note, 60 = C4.
    fingering
        ``plain``, ``fork``, ``half``, ``thumb`` or a named alternative.
    kind
        ``natural``: blind, own breath and fingers, no reference; ``careful``: the same with exact
        fingers; ``swell``, ``careful-swell``: soft to loud, one row per level step; ``matched``:
        against a sounding reference; ``melody``.
    microphone
        Microphone position; None is the session's one.
    order
        Position in the sitting.
    minutes
        Minutes since the player began to blow in this sitting.
    temperature_c
        Room temperature in degrees Celsius.
    cents
        Median deviation from the target over the sustain, positive when sharp.
    level_db
        RMS level over the sustain, comparable within a sitting only.
    sd_cents, drift_cents_per_s
        Spread and slope within the sustain.
    reference
        Whether a reference sounded meanwhile.
    blind
        Whether nothing that moves with the pitch was visible.
    previous_midi
        Note played before, if legato or within two seconds.
    swell, swell_step
        The swell this row belongs to, and its level step from soft to loud.
    """

    event: int
    player: str
    instrument: str
    session: str
    midi: int
    fingering: str = "plain"
    kind: Kind = "natural"
    microphone: str | None = None
    order: int | None = None
    minutes: float | None = None
    temperature_c: float | None = None
    cents: float
    level_db: float | None = None
    sd_cents: float | None = None
    drift_cents_per_s: float | None = None
    reference: bool = False
    blind: bool = True
    previous_midi: int | None = None
    swell: str | None = None
    swell_step: int | None = None
