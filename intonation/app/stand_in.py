"""Whose notes are kept: those of a simulated player never under a real player's name."""

from dataclasses import replace

from intonation.engine.messages import SoundSettings
from intonation.practice.settings import PracticeSettings

SIMULATED_PLAYER = "simulated player"


class StandIn:
    """Gives the simulated player a name of its own for as long as it stands in.

    Parameters
    ----------
    player
        Name of the player who chose last.
    """

    def __init__(self, player: str) -> None:
        self._player = player

    def named(
        self, settings: PracticeSettings, *, before: SoundSettings, after: SoundSettings
    ) -> PracticeSettings:
        """Return the settings with the name of whoever plays after other sound was chosen."""
        if before.simulated == after.simulated:
            return settings
        if after.simulated:
            self._player = settings.player
        return replace(settings, player=SIMULATED_PLAYER if after.simulated else self._player)

    def to_remember(self, settings: PracticeSettings) -> PracticeSettings:
        """Return what is remembered for the next sitting, when the player is back."""
        simulated = settings.player == SIMULATED_PLAYER
        return replace(settings, player=self._player) if simulated else settings
