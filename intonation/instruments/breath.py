"""How the pitch follows the breath: common slopes until the player's own are known."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True, slots=True)
class BreathSlopes:
    """Published or agreed figures on breath and pitch.

    Parameters
    ----------
    low_register_cents_per_db, second_register_cents_per_db
        Rise of the pitch per dB of sounding level.
    lowest_cents_per_db, highest_cents_per_db
        Bounds within which a player's own slope is believed.
    reach_cents
        How far breath alone can move a note before its tone suffers.
    """

    low_register_cents_per_db: float
    second_register_cents_per_db: float
    lowest_cents_per_db: float
    highest_cents_per_db: float
    reach_cents: float

    def usual(self, *, second_register: bool) -> float:
        """Return the common slope of a register in cents per dB."""
        if second_register:
            return self.second_register_cents_per_db
        return self.low_register_cents_per_db

    def believed(self, own_cents_per_db: float | None, *, second_register: bool) -> float:
        """Return the player's own slope where it is plausible, otherwise the common one."""
        if own_cents_per_db is not None and (
            self.lowest_cents_per_db <= own_cents_per_db <= self.highest_cents_per_db
        ):
            return own_cents_per_db
        return self.usual(second_register=second_register)


@cache
def breath_slopes() -> BreathSlopes:
    """Return the figures of ``data/breath.toml``."""
    path = resources.files("intonation.instruments") / "data" / "breath.toml"
    table = tomllib.loads(path.read_text("utf-8"))
    return BreathSlopes(
        table["low_register_cents_per_db"],
        table["second_register_cents_per_db"],
        table["own_slope"]["lowest_cents_per_db"],
        table["own_slope"]["highest_cents_per_db"],
        table["reach"]["cents"],
    )
