"""Whose notes are kept: those of a simulated player never under a real player's name."""

from dataclasses import replace

from intonation.engine.messages import SoundSettings
from intonation.practice.settings import SIMULATED_PLAYER, PracticeSettings

TWO_FAULTS, ITS_SIZE = "alto with two faults", "alto"


class StandIn:
    """Gives the simulated player, and their faulty alto, names of their own while they stand in.

    Parameters
    ----------
    own
        What the player chose last.
    """

    def __init__(self, own: PracticeSettings) -> None:
        usual = PracticeSettings()
        usual_pair = replace(own, player=usual.player, instrument=usual.instrument, size=None)
        # a demonstration may begin on the faulty alto, which is nobody's own
        self._own = usual_pair if own.instrument == TWO_FAULTS else own

    def named(
        self, settings: PracticeSettings, *, before: SoundSettings, after: SoundSettings
    ) -> PracticeSettings:
        """Return the settings with the names of whoever plays, and on what, after other sound."""
        if (before.simulated, before.two_faults) == (after.simulated, after.two_faults):
            return settings
        self._own = self.to_remember(settings)
        if not after.simulated:
            return self._own
        player = replace(self._own, player=SIMULATED_PLAYER)
        return on_the_alto_with_two_faults(player) if after.two_faults else player

    def to_remember(self, settings: PracticeSettings) -> PracticeSettings:
        """Return what is remembered for the next sitting, when the player is back."""
        own = self._own
        if settings.player == SIMULATED_PLAYER:
            settings = replace(settings, player=own.player)
        if settings.instrument != TWO_FAULTS:
            return settings
        return replace(
            settings,
            instrument=own.instrument,
            size=own.size,
            fingering_system=own.fingering_system,
        )


def on_the_alto_with_two_faults(settings: PracticeSettings) -> PracticeSettings:
    """Return settings of the simulated player on the simulated alto with two faults."""
    return replace(
        settings,
        player=SIMULATED_PLAYER,
        instrument=TWO_FAULTS,
        size=ITS_SIZE,
        fingering_system=PracticeSettings().fingering_system,
    )
