"""Simulated players and instruments with known truth, for judging the diagnosis.

Every magnitude here is invented for simulation. The worlds differ from the model on purpose: pitch
follows breath along a saturating curve, notes have heavier tails than a normal distribution and
lean on their neighbours, breath moods wander within a sitting, swells have uneven steps, and each
kind of world exaggerates something that the model takes to be ordinary.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from intonation.heldnotes.row import HeldNoteRow, Kind

Array = NDArray[np.float64]

CHROMATIC = tuple(range(65, 92))
NATURAL = tuple(m for m in CHROMATIC if m % 12 in (0, 2, 4, 5, 7, 9, 11))[:15]
_FORKS = {70, 71, 73, 75, 80}
_HALF = {66, 68}
_LOWEST_PINCHED = 81
_HABIT_CLASS = {"plain": 1.2, "fork": 2.0, "half": 2.5, "thumb": 4.2}


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """What kind of players, instruments and accidents there are (standard deviations if so named).

    Parameters
    ----------
    steepness, bend
        Cents per dB in the middle, and how much the slope falls per dB above it.
    tilt_cents, register_cents, rough_cents
        Instrument: per octave, between registers, from note to note.
    habit, exact_share
        Size of the fingers' habits, and the least and largest share that exact fingering leaves.
    breath_db, breath_tilt_db
        Lasting breath deviations from note to note, and per octave.
    repeat_db, middle_db
        Breath from tone to tone, and of the middle of a swell.
    loudness_db
        Loudness of notes at equal breath.
    day_cents, pitch_cents
        Each note from day to day; measurement.
    compensation
        Largest share of a fault that is corrected by breath unknowingly.
    tail
        Degrees of freedom of the heavy tails.
    slips
        Share of tones that squeak or are fingered wrongly.
    skill, quality
        Log spread of a common factor of habits and unsteadiness, and of an instrument's faults.
    """

    steepness: float = 4.5
    bend: float = 0.06
    tilt_cents: float = 5.5
    register_cents: float = 5.0
    rough_cents: float = 4.8
    habit: float = 1.0
    exact_share: tuple[float, float] = (0.2, 0.6)
    breath_db: float = 1.15
    breath_tilt_db: float = 1.2
    repeat_db: float = 0.75
    middle_db: float = 0.95
    loudness_db: float = 2.0
    day_cents: float = 1.5
    pitch_cents: float = 1.2
    compensation: float = 0.35
    tail: float = 5.0
    slips: float = 0.02
    skill: float = 0.3
    quality: float = 0.2


USUAL = World()
WORLDS: dict[str, World] = {
    "usual": USUAL,
    "steep": replace(USUAL, steepness=6.3, bend=0.12),
    "bold": replace(USUAL, habit=2.0, breath_db=1.7),
    "stubborn": replace(USUAL, exact_share=(0.65, 0.8)),
    "hard": replace(USUAL, exact_share=(0.65, 0.75), middle_db=1.6, slips=0.05, tail=3.0, bend=0.1),
    "mixed": replace(USUAL, skill=0.45, quality=0.45, middle_db=1.3, tail=4.0),
    "tame": replace(USUAL, habit=0.6, rough_cents=3.0, tilt_cents=3.0, breath_db=0.8),
}
"""Named kinds of world."""


def fingering_of(midi: int) -> str:
    """Return what makes a note of the simulated alto delicate."""
    if midi >= _LOWEST_PINCHED:
        return "thumb"
    return "fork" if midi in _FORKS else "half" if midi in _HALF else "plain"


@dataclass(slots=True)
class Instrument:
    """A simulated instrument over the compass ``CHROMATIC``."""

    name: str
    offset_cents: Array
    cents_per_db: Array
    bend: Array
    loudness_db: Array
    range_middle_db: Array
    make: dict[int, float] = field(default_factory=dict)


@dataclass(slots=True)
class Player:
    """A simulated player over the compass ``CHROMATIC``."""

    name: str
    habit_cents: Array
    breath_db: Array
    swell_db: float
    exact_share: float
    compensation: float
    clumsiness: float


def _heavy(rng: np.random.Generator, world: World, size: int) -> Array:
    drawn = rng.standard_t(world.tail, size) / np.sqrt(world.tail / (world.tail - 2.0))
    return np.clip(drawn, -4.0, 4.0)


def _neighbourly(rng: np.random.Generator, world: World, size: int) -> Array:
    """Deviations that lean on their neighbours a little, with unit variance."""
    own, shared = _heavy(rng, world, size), rng.normal(size=size + 1)
    return np.sqrt(0.75) * own + 0.5 * (shared[1:] + shared[:-1]) / np.sqrt(2.0)


def _octaves() -> Array:
    midi = np.array(CHROMATIC, dtype=float)
    return (midi - midi.mean()) / 12.0


def made_instrument(rng: np.random.Generator, world: World, name: str = "R1") -> Instrument:
    """Return an invented instrument."""
    octave, count = _octaves(), len(CHROMATIC)
    upper = np.array([m >= _LOWEST_PINCHED for m in CHROMATIC], dtype=float)
    quality = np.exp(rng.normal(0.0, world.quality))
    offset = rng.normal(0, world.tilt_cents) * octave + rng.normal(0, world.register_cents) * upper
    offset += rng.normal(0, 3.0) * np.sin(2.0 * octave + rng.uniform(0, 6.0))
    offset += world.rough_cents * _neighbourly(rng, world, count)
    steep = world.steepness * np.exp(rng.normal(0.0, 0.15))
    slope = steep * (1 - 0.1 * octave) * np.exp(rng.normal(0, 0.17, count))
    fork = np.array([fingering_of(m) == "fork" for m in CHROMATIC], dtype=float)
    loud = 3.0 * octave + world.loudness_db * rng.normal(size=count) - 1.5 * fork
    return Instrument(
        name,
        quality * offset,
        slope,
        np.full(count, world.bend * np.exp(rng.normal(0.0, 0.4))),
        loud,
        0.7 * rng.normal(size=count) + rng.normal(0, 0.5) * octave,
    )


def made_player(rng: np.random.Generator, world: World, name: str = "P1") -> Player:
    """Return an invented player."""
    octave, count = _octaves(), len(CHROMATIC)
    skill = float(np.exp(rng.normal(0.0, world.skill)))
    kinds = [fingering_of(m) for m in CHROMATIC]
    habit = np.array([_HABIT_CLASS[k] for k in kinds]) * _heavy(rng, world, count)
    habit += np.array([k == "thumb" for k in kinds]) * rng.normal(0.0, 3.0)
    breath = rng.normal(0, 1.0) + rng.normal(0, world.breath_tilt_db) * octave
    breath += rng.normal(0, 0.8) * np.cos(3.0 * octave)
    breath += world.breath_db * skill * _neighbourly(rng, world, count)
    return Player(
        name,
        world.habit * skill * habit,
        breath,
        float(rng.normal(0.0, 0.8)),
        float(rng.uniform(*world.exact_share)),
        float(rng.uniform(0.0, world.compensation)),
        skill,
    )


def pitch_at(instrument: Instrument, breath_db: Array, notes: NDArray[np.intp]) -> Array:
    """Return how far breath above the middle of the range lifts notes, in cents (saturating)."""
    slope, bend = instrument.cents_per_db[notes], instrument.bend[notes]
    bent: Array = slope * 8.0 * np.tanh(breath_db / 8.0) - slope * bend * breath_db**2 / 2.0
    return bent


@dataclass(slots=True)
class Sitting:
    """One player on one instrument on one day, collecting rows."""

    world: World
    rng: np.random.Generator
    player: Player
    instrument: Instrument
    session: str
    microphone: str | None = None
    gain_db: float = 0.0
    minutes: float = 0.0
    rows: list[HeldNoteRow] = field(default_factory=list)
    first_event: int = 1
    cold_cents: float = 8.0
    pitch_cents: float = 0.0
    mood_db: float = 0.0
    day_cents: Array = field(default_factory=lambda: np.zeros(len(CHROMATIC)))
    again_cents: Array = field(default_factory=lambda: np.zeros(len(CHROMATIC)))
    room_db: Array = field(default_factory=lambda: np.zeros(len(CHROMATIC)))
    changed_cents: Array = field(default_factory=lambda: np.zeros(len(CHROMATIC)))

    def begin(self) -> "Sitting":
        """Draw what belongs to the day."""
        world, rng, count = self.world, self.rng, len(CHROMATIC)
        self.gain_db = rng.normal(68.0, 4.0) - 90.0
        self.cold_cents = max(0.0, rng.normal(7.0, 4.0))
        self.pitch_cents = rng.normal(0.0, 5.0)
        self.mood_db = rng.normal(0.0, 0.7)
        self.day_cents = world.day_cents * _heavy(rng, world, count)
        classes = np.array([_HABIT_CLASS[fingering_of(m)] for m in CHROMATIC])
        self.again_cents = 0.25 * classes * world.habit * rng.normal(size=count)
        self.room_db = rng.normal(0.0, 1.2, count)
        return self

    def natural_breath_db(self, note: int) -> float:
        """Return today's usual breath above the middle of the note's range, before chance."""
        softer = self.player.compensation * self.instrument.offset_cents[note]
        own = self.player.breath_db[note] - self.instrument.range_middle_db[note]
        return float(own + self.mood_db - softer / self.instrument.cents_per_db[note])

    def _cents(self, note: int, breath_db: float, share: float) -> float:
        bent = pitch_at(self.instrument, np.array([breath_db]), np.array([note]))[0]
        fingers = share * self.player.habit_cents[note]
        if share != 1.0:
            fingers += self.again_cents[note]
        cold = -self.cold_cents * np.exp(-self.minutes / 5.0)
        lasting = self.instrument.offset_cents[note] + self.day_cents[note]
        return float(bent + fingers + cold + lasting + self.pitch_cents + self.changed_cents[note])

    def _level(self, note: int, breath_db: float) -> float:
        place = self.instrument.loudness_db[note] + self.room_db[note]
        anchor = self.instrument.range_middle_db[note]
        return float(self.gain_db + place + anchor + breath_db + self.rng.normal(0.0, 0.3))

    def _add(self, note: int, kind: Kind, cents: float, level: float, **more: object) -> None:
        cents += float(self.world.pitch_cents * _heavy(self.rng, self.world, 1)[0])
        midi = CHROMATIC[note]
        self.rows.append(
            HeldNoteRow(
                event=self.first_event + len(self.rows),
                player=self.player.name,
                instrument=self.instrument.name,
                session=self.session,
                midi=midi,
                fingering=fingering_of(midi),
                kind=kind,
                microphone=self.microphone,
                order=len(self.rows),
                minutes=round(self.minutes, 3),
                cents=round(float(np.clip(cents, -900, 900)), 2),
                level_db=round(level, 2),
                **more,  # type: ignore[arg-type]
            )
        )

    def play(self, midi: int, kind: Kind = "natural", *, free_db: float | None = None) -> None:
        """Play one plain tone; ``free_db`` is a breath chosen for a reference."""
        note = CHROMATIC.index(midi)
        repeat = self.world.repeat_db * self.player.clumsiness
        repeat *= _heavy(self.rng, self.world, 1)[0]
        breath = self.natural_breath_db(note) + repeat if free_db is None else free_db
        share = self.player.exact_share if kind == "careful" else 1.0
        cents = self._cents(note, breath, share)
        if self.rng.random() < self.world.slips:
            cents += float(self.rng.choice([-180.0, -60.0, 45.0, 90.0, 400.0, 1150.0]))
        self._add(note, kind, cents, self._level(note, breath), reference=kind == "matched")
        self.minutes += 7.0 / 60.0

    def swell(self, midi: int, kind: Kind = "careful-swell", *, steps: int = 7) -> None:
        """Swell one note from soft to loud."""
        note = CHROMATIC.index(midi)
        world, rng = self.world, self.rng
        middle = self.player.swell_db + world.middle_db * _heavy(rng, world, 1)[0]
        width = max(4.0, rng.normal(8.5, 1.5))
        along = np.linspace(-0.5, 0.5, steps) + rng.normal(0.0, 0.03, steps)
        share = self.player.exact_share if kind == "careful-swell" else 1.0
        broken = rng.random() < 2.0 * world.slips
        for step, where in enumerate(along):
            breath = float(middle + width * where)
            cents = self._cents(note, breath, share)
            if broken and step == steps - 1:
                cents += 60.0
            level = self._level(note, breath)
            name = f"{self.session}-{kind}-{midi}-{self.first_event + len(self.rows) - step}"
            self._add(note, kind, cents, level, swell=name, swell_step=step)
        self.minutes += 9.0 / 60.0

    def play_pass(self, letter: str, notes: tuple[int, ...]) -> None:
        """Play pass A (as always) or B (fingers exact: hold, then swell) in random order."""
        for midi in self.rng.permutation(notes):
            if letter == "A":
                self.play(int(midi))
            else:
                self.play(int(midi), "careful")
                self.swell(int(midi))


@dataclass(frozen=True, slots=True)
class Truth:
    """True parts of some notes, each centred on their mean, in cents."""

    notes: tuple[int, ...]
    instrument_cents: Array
    breath_cents: Array
    habit_cents: Array

    @property
    def player_cents(self) -> Array:
        """Breath and fingers together."""
        return self.breath_cents + self.habit_cents


def truth_of(player: Player, instrument: Instrument, notes: tuple[int, ...]) -> Truth:
    """Return who really owns what."""
    index = np.array([CHROMATIC.index(midi) for midi in notes], dtype=np.intp)
    today = Sitting(USUAL, np.random.default_rng(0), player, instrument, "truth")
    usual = np.array([today.natural_breath_db(int(i)) for i in index])
    parts = (
        instrument.offset_cents[index],
        pitch_at(instrument, usual, index),
        player.habit_cents[index],
    )
    return Truth(notes, *(part - part.mean() for part in parts))


def checked(
    seed: int, world: World = USUAL, *, passes: str = "ABA", notes: tuple[int, ...] = CHROMATIC
) -> tuple[list[HeldNoteRow], Truth]:
    """Return the rows of one instrument check by a new pair, and the truth."""
    rng = np.random.default_rng(seed)
    player, instrument = made_player(rng, world), made_instrument(rng, world)
    sitting = Sitting(world, rng, player, instrument, "S1", minutes=3.0).begin()
    for letter in passes:
        sitting.play_pass(letter, notes)
    return sitting.rows, truth_of(player, instrument, notes)


@dataclass(frozen=True, slots=True)
class Adjustment:
    """Rows before and after an adjustment, the sessions of each, and what was done to each note."""

    rows: list[HeldNoteRow]
    before: tuple[str, ...]
    after: tuple[str, ...]
    changes_cents: dict[int, float]


def adjusted(
    seed: int, world: World = USUAL, *, chosen: bool = True, repeats: int = 2
) -> Adjustment:
    """Return an adjustment that is taken off and put on again, with a check on file.

    Parameters
    ----------
    seed, world
        Which pair, and of what kind.
    chosen
        Eight chosen notes off, on, off, on in one sitting; otherwise the whole compass once off and
        once on, without a check on file.
    repeats
        Plain tones of each note in each part.
    """
    rng = np.random.default_rng(seed)
    player, instrument = made_player(rng, world), made_instrument(rng, world)
    notes = tuple(sorted(int(n) for n in rng.choice(CHROMATIC, 8, replace=False)))
    notes = notes if chosen else CHROMATIC
    touched = rng.choice(notes, 3 if chosen else 5, replace=False)
    changes = dict.fromkeys(notes, 0.0)
    for note in touched:
        changes[int(note)] = float(rng.choice([-1, 1]) * rng.uniform(4.0, 18.0))
    rows: list[HeldNoteRow] = []
    if chosen:
        file = Sitting(world, rng, player, instrument, "file", minutes=2.0).begin()
        for letter in "AB":
            file.play_pass(letter, CHROMATIC)
        rows = file.rows
    sitting = Sitting(world, rng, player, instrument, "", microphone=None, minutes=5.0).begin()
    sitting.first_event = len(rows) + 1
    parts = ("off 1", "on 1", "off 2", "on 2") if chosen else ("off 1", "on 1")
    for session in parts:
        sitting.session = session
        sitting.changed_cents = np.array(
            [changes.get(m, 0.0) if session.startswith("on") else 0.0 for m in CHROMATIC]
        )
        for _ in range(repeats):
            for midi in rng.permutation(notes):
                sitting.play(int(midi))
    before = tuple(session for session in parts if session.startswith("off"))
    after = tuple(session for session in parts if session.startswith("on"))
    return Adjustment(rows + sitting.rows, before, after, changes)
