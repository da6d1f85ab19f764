"""One effect of a note may be the odd one out: tails heavier than normal, in closed form.

The fit takes all effects to be normal. Here a note's own effects (instrument, fingers, breath,
the middle of each swell) are usually a little smaller than that, and now and then one of them is
much larger: a scale mixture of normals (Andrews & Mallows 1974, J. R. Stat. Soc. B 36:99, from
memory). Exchanging the prior of a few effects moves a Gaussian posterior in closed form, and each
way of explaining the note counts by its evidence.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from intonation.diagnosis.readings import Array

ORDINARY, ODD, ODD_SHARE = 0.87, 2.2, 0.09
"""Size of ordinary and of odd effects relative to the fitted one, and how often one is odd
(invented)."""
ODD_FINGERS_CENTS = 8.0
"""What a hole that leaks, or is shaded by habit, does at least to any note (invented): far more
than plain fingerings usually differ by."""


@dataclass(frozen=True, slots=True)
class NoteMixture:
    """The three parts of one note, as a mixture of normal distributions.

    Parameters
    ----------
    weight
        (M,), summing to one.
    mean
        (M, 3): instrument, breath, fingers.
    covariance
        (M, 3, 3).
    """

    weight: Array
    mean: Array
    covariance: Array

    def moments(self, combinations: Array) -> tuple[Array, Array]:
        """Return mean and standard deviation of one combination (3,) of the parts, or of several.

        Parameters
        ----------
        combinations
            (3,), or (A, 3) for A of each.
        """
        means = self.mean @ combinations.T
        spreads = (self.covariance @ combinations.T * combinations.T).sum(axis=1)
        centre = self.weight @ means
        variance = self.weight @ (spreads + (means - centre) ** 2)
        return centre, np.sqrt(np.maximum(variance, 0.0))


@dataclass(frozen=True, slots=True)
class NoteEffects:
    """What one setting says of a note's parts and its own effects.

    Parameters
    ----------
    weight
        Of the setting.
    mean, covariance
        (3,) and (3, 3): of the parts.
    effect_mean, effect_covariance, across
        (K,), (K, K) and (3, K): of the effects, and of parts with effects.
    prior
        (K,): prior variance of the effects.
    least_odd
        (K,): standard deviation that an odd effect has at least.
    """

    weight: float
    mean: Array
    covariance: Array
    effect_mean: Array
    effect_covariance: Array
    across: Array
    prior: Array
    least_odd: Array


def with_odd_ones(settings: list[NoteEffects], *, wider: float) -> NoteMixture:
    """Return a note's parts when none, or one, of its own effects is odd.

    Parameters
    ----------
    settings
        What each setting says.
    wider
        Factor on all covariances.
    """
    sizes = np.array([_sizes(one) for one in settings])
    weight, mean, covariance, prior = (
        np.array([getattr(one, name) for one in settings])[:, None]
        for name in ("weight", "mean", "covariance", "prior")
    )
    effects, apart, across = (
        np.array([getattr(one, name) for one in settings])[:, None]
        for name in ("effect_mean", "effect_covariance", "across")
    )
    # From here on: settings by explanations, and then the shape of each thing.
    pull = (1.0 / sizes**2 - 1.0) / prior
    seen = np.eye(sizes.shape[-1]) + apart * pull[:, :, None, :]
    gain = pull[:, :, :, None] * np.linalg.inv(seen)
    moved = (gain @ effects[..., None])[..., 0]
    fits = np.linalg.slogdet(seen)[1] + (moved * effects).sum(axis=-1)
    odds = np.log(ODD_SHARE) - np.log1p(-ODD_SHARE)
    log_prior = np.append(0.0, np.full(sizes.shape[-1], odds))
    log_weight = np.log(weight) + log_prior - np.log(sizes).sum(axis=-1) - 0.5 * fits
    shares = np.exp(log_weight - log_weight.max())
    through = across.swapaxes(-1, -2)
    means = mean - (moved[:, :, None, :] @ through)[:, :, 0]
    spreads = wider * (covariance - across @ gain @ through)
    return NoteMixture(
        (shares / shares.sum()).ravel(), means.reshape(-1, 3), spreads.reshape(-1, 3, 3)
    )


def centred(notes: Iterable[NoteMixture]) -> tuple[NoteMixture, ...]:
    """Return the notes with every part centred on the mean of its estimates."""
    listed = list(notes)
    centre = np.mean([note.weight @ note.mean for note in listed], axis=0)
    return tuple(replace(note, mean=note.mean - centre) for note in listed)


def _sizes(effects: NoteEffects) -> Array:
    """Return relative sizes (1 + K, K) of K effects: none of them odd, or each in turn."""
    count = len(effects.prior)
    sizes = np.full((1 + count, count), ORDINARY)
    odd = np.maximum(ODD, effects.least_odd / np.sqrt(effects.prior))
    sizes[1 + np.arange(count), np.arange(count)] = odd
    return sizes
