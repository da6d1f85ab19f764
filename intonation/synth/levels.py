"""How strong each tone of a chord is, so that all of them together stay under the ceiling."""

from collections.abc import Sequence

from intonation.synth.loudness import CEILING

TONE_LEVEL_DB = -20.0
"""RMS level in dBFS of one tone of level 0 dB at the greatest loudness."""


def balanced_gains(levels_db: Sequence[float], crests: Sequence[float]) -> tuple[float, ...]:
    """Return the RMS amplitude of each tone, full scale being 1.

    Even if all their peaks meet, their sum stays under the ceiling.

    Parameters
    ----------
    levels_db
        Level of each tone relative to the usual one; more than 0 counts as 0.
    crests
        Peak of each tone relative to its RMS.
    """
    gains = [10.0 ** ((TONE_LEVEL_DB + min(0.0, level_db)) / 20.0) for level_db in levels_db]
    highest = sum(gain * crest for gain, crest in zip(gains, crests, strict=True))
    return tuple(gain * CEILING / max(highest, CEILING) for gain in gains)
