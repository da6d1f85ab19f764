"""Simulated pairs whose makers tune at an even breath: normal effects, players of many sizes.

Every magnitude is invented. Unlike in ``worlds`` tails are normal, sizes differ much from one
player to the next, a note that likes more breath is sharper in the middle of its range, and players
follow an even breath, not each note's range.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from intonation.heldnotes.row import HeldNoteRow, Kind
from tests.support.worlds import CHROMATIC, Truth, fingering_of

Array = NDArray[np.float64]

_KINDS = [fingering_of(midi) for midi in CHROMATIC]
_HABIT = np.array([{"plain": 1.2, "fork": 2.0, "half": 2.5, "thumb": 4.5}[kind] for kind in _KINDS])
_PINCHED = np.array([float(kind == "thumb") for kind in _KINDS])
_OCTAVES = (np.array(CHROMATIC, dtype=float) - np.mean(CHROMATIC)) / 12.0
_COUNT = len(CHROMATIC)
_SIZE_SPREAD = 0.4


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenWorld:
    """Median standard deviations, in cents and dB, and what exact fingers leave of a habit."""

    cents_per_db: float = 4.5
    bend: float = 0.04
    rough_cents: float = 4.1
    habit: float = 1.1
    exact_shares: tuple[float, ...] = (0.3, 0.7)
    breath_db: float = 0.95
    repeat_db: float = 0.9
    middle_db: float = 0.72
    range_db: float = 0.7
    day_cents: float = 1.6
    step_cents: float = 1.0
    slips: float = 0.008


_EVEN = EvenWorld()
EVEN_WORLDS: dict[str, EvenWorld] = {
    "even": _EVEN,
    "even steady": replace(_EVEN, habit=0.9, breath_db=1.2, middle_db=0.65, day_cents=0.8),
    "even hard": replace(_EVEN, exact_shares=(0.7,), middle_db=1.15, step_cents=2.0, slips=0.02),
    "even steep": replace(_EVEN, cents_per_db=6.3, bend=0.07),
    "even bold": replace(_EVEN, habit=2.0),
}
"""Named kinds of world; a third of the notes of the first two is more than 8 cents off."""


@dataclass
class EvenPair:
    """One player on one instrument, at one sitting."""

    world: EvenWorld
    rng: np.random.Generator
    minutes: float = 0.0
    last: int | None = None
    rows: list[HeldNoteRow] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Draw the instrument, the player and the day."""
        self._draw_sizes()
        self._draw_instrument()
        self._draw_player()
        self._draw_day()

    def _draw_sizes(self) -> None:
        normal, skill = self.rng.normal, self.rng.normal()
        names = ("rough", "loudness", "pitch", "day", "habit", "breath", "repeat", "middle")
        log = {name: normal() for name in names}
        for name in names[4:]:
            log[name] = np.sqrt(0.6) * skill + np.sqrt(0.4) * log[name]
        self.size = {name: float(np.exp(_SIZE_SPREAD * value)) for name, value in log.items()}

    def _draw_instrument(self) -> None:
        world, normal = self.world, self.rng.normal
        offset = normal(0, 5.6) * _OCTAVES + normal(0, 5.0) * _PINCHED
        offset += normal(0, 3.0) * (_OCTAVES**2 - 0.4) + normal(0, world.rough_cents, _COUNT)
        self.offset_cents = self.size["rough"] * offset
        slope = 4.5 + normal(0, 0.8) + normal(0, 0.4) * _OCTAVES + normal(0, 0.9, _COUNT)
        self.slope = np.maximum(world.cents_per_db / 4.5 * slope, 1.2)
        self.bend = world.bend * np.exp(normal(0, 0.3) + normal(0, 0.2, _COUNT))
        self.middle_db = normal(0, world.range_db, _COUNT) + normal(0, 0.4) * _OCTAVES
        self.loudness_db = 3.0 * _OCTAVES + self.size["loudness"] * normal(0, 2.2, _COUNT)

    def _draw_player(self) -> None:
        world, normal, size = self.world, self.rng.normal, self.size
        habit = _HABIT * normal(size=_COUNT) + normal(0, 3.0) * _PINCHED
        self.habit_cents = world.habit * size["habit"] * habit
        self.exact_share = float(self.rng.choice(world.exact_shares))
        own = normal(0, 0.8) + normal(0, 0.7) * _OCTAVES + normal(0, 0.5) * (_OCTAVES**2 - 0.4)
        own += size["breath"] * normal(0, world.breath_db, _COUNT)
        softer = float(self.rng.choice([0.05, 0.3])) * self.offset_cents / self.slope
        self.breath_db = own - softer

    def _draw_day(self) -> None:
        normal, size = self.rng.normal, self.size
        self.mood_db, self.fatigue_db = normal(0, 0.7), normal(0, 0.05)
        self.swell_db = normal(0, 0.8) + normal(0, 0.35) * _OCTAVES
        self.day_cents = size["day"] * normal(0, self.world.day_cents, _COUNT)
        again = 0.25 * self.world.habit * size["habit"] * _HABIT * normal(size=_COUNT)
        self.exact_cents = self.exact_share * self.habit_cents + again
        self.pitch_cents, self.cold_cents = normal(0, 6.0), max(0.0, normal(8.0, 3.0))
        self.drift_cents, self.approach_cents = normal(0, 2.0), normal(0, 0.8)
        self.gain_db, self.minutes = normal(-20.0, 4.0), float(self.rng.uniform(0.0, 3.0))

    def pitch_at(self, breath_db: Array | float, note: int | slice = slice(None)) -> Array:
        """Return what breath above the even one adds, in cents."""
        bend = self.bend[note]
        return np.asarray(self.slope[note] * (1.0 - np.exp(-bend * breath_db)) / bend)

    def truth(self) -> Truth:
        """Return who really owns what; the instrument is judged in the middle of each range."""
        middle = self.pitch_at(self.middle_db)
        breath = self.pitch_at(self.breath_db) - middle
        parts = self.offset_cents + middle, breath, self.habit_cents
        return Truth(CHROMATIC, *(part - part.mean() for part in parts))

    def _today(self, note: int) -> float:
        cents = self.pitch_cents - self.cold_cents * np.exp(-self.minutes / 4.0)
        cents += self.drift_cents * (self.minutes - 4.0) / 8.0 + self.day_cents[note]
        if self.last is not None:
            cents += self.approach_cents * np.sign(note - self.last)
        return float(cents + self.offset_cents[note])

    def _add(
        self,
        note: int,
        kind: Kind,
        cents: float,
        breath: float,
        swell: str | None,
        step: int | None,
    ) -> None:
        level = self.gain_db + self.loudness_db[note] + breath + self.rng.normal(0, 0.4)
        self.rows.append(
            HeldNoteRow(
                event=len(self.rows) + 1,
                player="P1",
                instrument="R1",
                session="S1",
                midi=CHROMATIC[note],
                fingering=_KINDS[note],
                kind=kind,
                order=len(self.rows),
                minutes=round(self.minutes, 3),
                cents=round(float(cents), 2),
                level_db=round(float(level), 2),
                swell=swell,
                swell_step=step,
            )
        )

    def tone(self, note: int, kind: Kind) -> None:
        """Play one plain tone."""
        rng, size = self.rng, self.size
        breath = self.breath_db[note] + self.mood_db + self.fatigue_db * self.minutes
        breath += size["repeat"] * rng.normal(0, self.world.repeat_db)
        fingers = self.habit_cents[note] if kind == "natural" else self.exact_cents[note]
        cents = self._today(note) + fingers + float(self.pitch_at(breath, note))
        cents += size["pitch"] * rng.normal(0, 1.3)
        if rng.random() < self.world.slips:
            cents += float(rng.choice([-120.0, -60.0, -35.0, 40.0, 70.0, 150.0, 700.0]))
        self._add(note, kind, cents, breath, None, None)

    def swell(self, note: int, *, steps: int = 7) -> None:
        """Swell one note with exact fingers; the loudest step breaks now and then."""
        rng = self.rng
        middle = self.middle_db[note] + self.swell_db[note]
        middle += self.size["middle"] * rng.normal(0, self.world.middle_db)
        width = float(np.clip(rng.normal(8.5, 1.5), 5.0, 13.0))
        base = self._today(note) + self.exact_cents[note] + self.size["pitch"] * rng.normal(0, 0.9)
        breaks = rng.random() < 0.08
        for step in range(steps):
            breath = middle + width * (step / (steps - 1) - 0.5) + rng.normal(0, 0.2)
            cents = base + float(self.pitch_at(breath, note)) + rng.normal(0, self.world.step_cents)
            cents += 50.0 * (breaks and step == steps - 1)
            self._add(note, "careful-swell", cents, breath, f"{self.minutes:.3f} {note}", step)

    def play_pass(self, letter: str) -> None:
        """Play pass A (as always) or B (fingers exact: hold, then swell) in random order."""
        for note in self.rng.permutation(_COUNT).tolist():
            self.tone(note, "natural" if letter == "A" else "careful")
            self.minutes += 7.0 / 60.0
            if letter == "B":
                self.swell(note)
                self.minutes += 4.0 / 60.0
            self.last = note


def evenly_checked(
    seed: int, world: EvenWorld, *, passes: str = "ABA"
) -> tuple[list[HeldNoteRow], Truth]:
    """Return the rows of one instrument check by a new pair, and the truth."""
    pair = EvenPair(world, np.random.default_rng(seed))
    for letter in passes:
        pair.play_pass(letter)
    return pair.rows, pair.truth()
