"""Notices that samples were lost, so that nobody trusts a note that was heard with a hole in it."""

from intonation.engine.connections import ConnectionCount
from intonation.engine.messages import SoundFault
from intonation.language import say


class LossWatch:
    """Compares what was counted with what had been counted the time before."""

    def __init__(self) -> None:
        self._before: ConnectionCount | None = None

    def fault(self, count: ConnectionCount) -> SoundFault | None:
        """Return a fault if samples were lost since the last time it was asked."""
        before, self._before = self._before or count, count
        if (count.overflows, count.dropped_samples) == (before.overflows, before.dropped_samples):
            return None
        return SoundFault(
            say(
                "The computer was too busy and lost some of the sound; "
                "the note that sounded just now may be misjudged."
            ),
            say("Play it again; close other programs if this comes back."),
            fatal=False,
        )
