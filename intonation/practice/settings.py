"""What the player chooses before practising. Remembered between sittings."""

from dataclasses import dataclass

from intonation.instruments.instrument import Instrument
from intonation.instruments.own_instrument import recorder
from intonation.pitch.temperaments import Temperament

PURE, OWN = "pure", "own"

SIMULATED_PLAYER = "simulated player"
"""The name under which notes are kept that no real player has played."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeSettings:
    """A player's choices.

    Parameters
    ----------
    player
        Name under which notes are kept.
    instrument
        The player's own name for the instrument, or the name of a size, such as ``"alto"``.
    size
        Name of its size; None if its own name says it.
    fingering_system
        How it is fingered, for example ``"baroque"``.
    a4_hz
        Concert pitch.
    temperament
        A temperament's name; ``"pure"`` for pure intervals over the drone; ``"own"`` for the
        player's own temperament.
    own_temperament, temperament_file
        The player's own temperament, if there is one, and the path of its file.
    drone_midi
        The drone's note.
    drone_fifth, drone_octave
        Whether the fifth and the octave above sound with it.
    loudness_db
        Level of the reference, 0 dB being the loudest that the product plays.
    voice
        Name of the reference voice.
    temperature_c
        Room temperature, if known.
    """

    player: str = "player"
    instrument: str = "alto"
    size: str | None = None
    fingering_system: str = "baroque"
    a4_hz: float = 440.0
    temperament: str = "pure"
    own_temperament: Temperament | None = None
    temperament_file: str | None = None
    drone_midi: int = 65
    drone_fifth: bool = False
    drone_octave: bool = False
    loudness_db: float = -18.0
    voice: str = "principal"
    temperature_c: float | None = None

    @property
    def recorder(self) -> Instrument:
        """The instrument in hand: its compass and its fingerings.

        Raises
        ------
        SettingsError
            If its size is not known.
        """
        return recorder(self.instrument, size=self.size, fingering_system=self.fingering_system)

    @property
    def tuning_name(self) -> str:
        """The name under which notes are kept: that of the temperament, or ``"pure"``."""
        own = self.own_temperament
        return own.name if self.temperament == OWN and own is not None else self.temperament
