"""Chords: their symbols, their members, and how each member is tuned."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from intonation.errors import SettingsError
from intonation.language import say
from intonation.pitch.cents import cents_between
from intonation.pitch.notes import PITCH_CLASSES, pitch_class_of
from intonation.pitch.tuning import Tuning

MemberName = Literal["root", "third", "fourth", "fifth", "sixth", "seventh", "bass"]


@dataclass(frozen=True, slots=True)
class ChordMember:
    """One note of a chord.

    Parameters
    ----------
    name
        Its place in the chord.
    semitones
        Distance above the root.
    ratio
        Pure ratio to the root; None in chords that have no pure form.
    """

    name: MemberName
    semitones: int
    ratio: Fraction | None


def _pure(*ratios: tuple[MemberName, int, Fraction]) -> tuple[ChordMember, ...]:
    return tuple(ChordMember(*each) for each in (("root", 0, Fraction(1)), *ratios))


def _tempered(*places: tuple[MemberName, int]) -> tuple[ChordMember, ...]:
    return tuple(ChordMember(name, semitones, None) for name, semitones in (("root", 0), *places))


_FIFTH: tuple[MemberName, int, Fraction] = ("fifth", 7, Fraction(3, 2))
_MAJOR: tuple[MemberName, int, Fraction] = ("third", 4, Fraction(5, 4))
_MINOR: tuple[MemberName, int, Fraction] = ("third", 3, Fraction(6, 5))

CHORD_KINDS: dict[str, tuple[ChordMember, ...]] = {
    "": _pure(_MAJOR, _FIFTH),
    "m": _pure(_MINOR, _FIFTH),
    "5": _pure(_FIFTH),
    "sus4": _pure(("fourth", 5, Fraction(4, 3)), _FIFTH),
    "6": _pure(_MAJOR, _FIFTH, ("sixth", 9, Fraction(5, 3))),
    "7": _pure(_MAJOR, _FIFTH, ("seventh", 10, Fraction(16, 9))),
    "maj7": _pure(_MAJOR, _FIFTH, ("seventh", 11, Fraction(15, 8))),
    "m7": _pure(_MINOR, _FIFTH, ("seventh", 10, Fraction(9, 5))),
    "dim": _tempered(("third", 3), ("fifth", 6)),
    "aug": _tempered(("third", 4), ("fifth", 8)),
    "m6": _tempered(("third", 3), ("fifth", 7), ("sixth", 9)),
    "m7b5": _tempered(("third", 3), ("fifth", 6), ("seventh", 10)),
    "dim7": _tempered(("third", 3), ("fifth", 6), ("seventh", 9)),
}
"""Members by the kind that a symbol ends with.

Ratios are the 5-limit ones (H. von Helmholtz, *On the Sensations of Tone*, ch. 12; from memory).
The seventh of ``7`` is 16/9, the pure fourth of the key over its fifth degree, not 7/4. The
symmetric and diminished kinds have no pure form that players agree on and follow the temperament.
"""

_SYMBOL = re.compile(r"([A-G][#♯b♭]?)([^/]*)(?:/([A-G][#♯b♭]?))?")
_OTHER_SPELLINGS = {"M": "", "maj": "", "min": "m", "-": "m", "+": "aug", "°": "dim", "o": "dim",
                    "M7": "maj7", "min7": "m7", "-7": "m7", "ø": "m7b5", "°7": "dim7"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord without its place in the octave.

    Parameters
    ----------
    root
        Pitch class of the root, 0 = C.
    kind
        A key of `CHORD_KINDS`.
    bass
        Pitch class of the lowest note where that is not the root.
    """

    root: int
    kind: str = ""
    bass: int | None = None

    @property
    def symbol(self) -> str:
        """The chord as musicians write it, for example ``"Gm7/Bb"``."""
        bass = "" if self.bass is None else f"/{PITCH_CLASSES[self.bass]}"
        return f"{PITCH_CLASSES[self.root]}{self.kind}{bass}"

    @property
    def members(self) -> tuple[ChordMember, ...]:
        """The root and what stands above it."""
        return CHORD_KINDS[self.kind]

    @property
    def is_pure_kind(self) -> bool:
        """Whether every member has a pure ratio to the root."""
        return all(member.ratio is not None for member in self.members)

    @property
    def pitch_classes(self) -> tuple[int, ...]:
        """Pitch classes that sound, root first, the foreign bass (if any) last."""
        inside = tuple((self.root + member.semitones) % 12 for member in self.members)
        return inside if self.bass is None or self.bass in inside else (*inside, self.bass)

    def member_of(self, pitch_class: int) -> MemberName | None:
        """Return the place of a pitch class in this chord; None if it is no part of it."""
        for member in self.members:
            if (self.root + member.semitones - pitch_class) % 12 == 0:
                return member.name
        return "bass" if pitch_class == self.bass else None

    def transposed(self, semitones: int) -> "Chord":
        """Return the same chord elsewhere."""
        bass = None if self.bass is None else (self.bass + semitones) % 12
        return Chord((self.root + semitones) % 12, self.kind, bass)


def parse_chord(symbol: str) -> Chord:
    """Return the chord that a symbol such as ``"Bb"``, ``"Gm7"`` or ``"C/E"`` stands for.

    Raises
    ------
    SettingsError
        If it is not a chord symbol that this product knows.
    """
    match = _SYMBOL.fullmatch(symbol.strip())
    kind = match.group(2) if match else ""
    kind = _OTHER_SPELLINGS.get(kind, kind)
    if match is None or kind not in CHORD_KINDS:
        kinds = ", ".join(f"F{each}" for each in CHORD_KINDS)
        raise SettingsError(
            say('"{symbol}" is not a chord symbol.', symbol=symbol),
            say("Known are {kinds}, and F/A.", kinds=kinds),
        )
    root, bass = pitch_class_of(match.group(1)), match.group(3)
    bass_class = pitch_class_of(bass) if bass else None
    return Chord(root, kind, None if bass_class == root else bass_class)


ChordTuning = Literal["tempered", "pure", "adapting"]
"""``tempered``: every note by the temperament. ``pure``: the root keeps its place in the
temperament, the others are pure above it. ``adapting``: pure, and moved as a whole so that notes
kept from the chord before move as little as possible."""

MOST_ADAPTING_CENTS = 11.0
"""How far an adapting root may leave the temperament: half a syntonic comma, rounded up, so that
no progression drifts away from the instruments that play along."""


@dataclass(frozen=True, slots=True)
class TunedChord:
    """A chord and the place of each of its pitch classes.

    Parameters
    ----------
    chord
        The chord.
    cents_from_equal
        Deviation of each sounding pitch class from equal temperament, in cents.
    a4_hz
        Concert pitch.
    is_pure
        Whether its members stand in pure ratios.
    """

    chord: Chord
    cents_from_equal: Mapping[int, float]
    a4_hz: float
    is_pure: bool

    def hz(self, midi: int) -> float:
        """Return the frequency in hertz of a note of this chord, in any octave."""
        offsets = tuple(self.cents_from_equal.get(pc, 0.0) for pc in range(12))
        return Tuning("chord", self.a4_hz, offsets).hz(midi)


def tune_chord(
    chord: Chord, *, how: ChordTuning, within: Tuning, before: TunedChord | None = None
) -> TunedChord:
    """Return a chord in tune.

    Parameters
    ----------
    chord
        The chord.
    how
        See `ChordTuning`. Chords without a pure form are always tempered.
    within
        The temperament at its concert pitch.
    before
        The chord that sounded before, for ``adapting``.
    """
    tempered = {pc: within.cents_from_equal[pc] for pc in chord.pitch_classes}
    if how == "tempered" or not chord.is_pure_kind:
        return TunedChord(chord, tempered, within.a4_hz, is_pure=False)
    pure = tempered | _pure_offsets(chord, root_cents=within.cents_from_equal[chord.root])
    if how == "adapting" and before is not None and before.is_pure:
        shift = _adapting_shift(pure, before)
        pure = {pc: cents + shift for pc, cents in pure.items()}
    return TunedChord(chord, pure, within.a4_hz, is_pure=True)


def _pure_offsets(chord: Chord, *, root_cents: float) -> dict[int, float]:
    return {
        (chord.root + member.semitones) % 12: root_cents
        + cents_between(float(member.ratio), target_hz=1.0)
        - 100.0 * member.semitones
        for member in chord.members
        if member.ratio is not None
    }


def _adapting_shift(pure: Mapping[int, float], before: TunedChord) -> float:
    """Return the move of the whole chord, in cents, that moves its kept notes least."""
    moves = [before.cents_from_equal[pc] - pure[pc] for pc in pure if pc in before.cents_from_equal]
    if not moves:
        return 0.0
    mean = sum(moves) / len(moves)
    return min(max(mean, -MOST_ADAPTING_CENTS), MOST_ADAPTING_CENTS)
