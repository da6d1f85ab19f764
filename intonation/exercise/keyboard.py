"""A keyboard as the reference: which keys sound, how they are tuned, and what they ask of a note.

A recorder takes both hands. So the keys can *latch*: a chord that was struck sounds on after the
hands have left it, until another one is struck. A teacher at the keyboard may prefer to hold them.
"""

from dataclasses import dataclass, replace

from intonation.exercise.score import MelodyTarget
from intonation.exercise.targets import target_alone, target_over_note
from intonation.pitch.tuning import Tuning, pure_over

MOST_KEYS = 12


@dataclass(frozen=True, slots=True)
class KeyPressed:
    """A key went down; C4 is 60."""

    midi: int


@dataclass(frozen=True, slots=True)
class KeyReleased:
    """A key came up."""

    midi: int


@dataclass(frozen=True, slots=True)
class StepAsked:
    """The pedal, or the key that was chosen for it, asks for the next step of the exercise."""


@dataclass(frozen=True, slots=True)
class AllKeysReleased:
    """The keyboard was silenced or unplugged."""


KeyboardEvent = KeyPressed | KeyReleased | StepAsked | AllKeysReleased


@dataclass(frozen=True, slots=True)
class KeyTone:
    """A sounding key and its exact frequency."""

    midi: int
    hz: float


@dataclass(frozen=True, slots=True)
class KeyboardReference:
    """What a keyboard sounds at one moment; `after` gives the next.

    Parameters
    ----------
    latching
        Whether a chord sounds on after its keys have come up.
    down
        Keys that are down.
    sounding
        Keys that sound, lowest first.
    """

    latching: bool = True
    down: frozenset[int] = frozenset()
    sounding: tuple[int, ...] = ()

    def after(self, event: KeyboardEvent) -> "KeyboardReference":
        """Return what sounds after an event."""
        match event:
            case KeyPressed(midi):
                return self._pressed(midi)
            case KeyReleased(midi):
                down = self.down - {midi}
                sounding = self.sounding if self.latching else tuple(sorted(down))
                return replace(self, down=down, sounding=sounding)
            case AllKeysReleased():
                return KeyboardReference(self.latching)
        return self

    def _pressed(self, midi: int) -> "KeyboardReference":
        """Add a key to those that are down; with none down, a latching chord begins anew."""
        if len(self.down) >= MOST_KEYS:
            return self
        kept = self.sounding if self.down else ()
        sounding = tuple(sorted({*kept, midi}))[-MOST_KEYS:]
        return replace(self, down=self.down | {midi}, sounding=sounding)

    def tones(self, *, tuning: Tuning, is_pure: bool) -> tuple[KeyTone, ...]:
        """Return what sounds: by the temperament, or pure over the lowest key."""
        if not self.sounding:
            return ()
        used = pure_over(self.sounding[0], within=tuning) if is_pure else tuning
        return tuple(KeyTone(midi, used.hz(midi)) for midi in self.sounding)

    def target(self, midi: int, *, tuning: Tuning, is_pure: bool) -> MelodyTarget:
        """Return what a played note should be: over the lowest key, or alone in silence."""
        if not self.sounding:
            return target_alone(midi, within=tuning)
        return target_over_note(
            midi,
            over_midi=self.sounding[0],
            origin="reference note",
            is_pure=is_pure,
            within=tuning,
        )
