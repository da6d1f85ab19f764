"""Each note's deviation in parts: instrument, breath and fingers, centred, and how surely."""

from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.attribution import Attribution, Node
from intonation.diagnosis.design import Design
from intonation.diagnosis.readings import Array, Fingered, Numbers

HALF_WIDTH_90 = 1.6448536269514722
"""Half of a 90 % interval of a normal distribution, in standard deviations."""
_WIDER = 1.17
"""Sizes are estimated, yet count as known: variances grow by so much (set on simulated pairs that
are not among those reported)."""


@dataclass(frozen=True, slots=True)
class Interval:
    """An estimate with its 90 % interval."""

    mean: float
    low: float
    high: float


def interval(mean: float, sd: float) -> Interval:
    """Return the 90 % interval of a normal distribution."""
    half = HALF_WIDTH_90 * sd
    return Interval(float(mean), float(mean - half), float(mean + half))


@dataclass(frozen=True, slots=True)
class Component:
    """Parts given one setting: means, and joint covariance, over notes stacked part by part.

    Parameters
    ----------
    weight
        Of the setting.
    mean
        Length 3 N: instrument, breath, fingers.
    covariance
        3 N by 3 N.
    """

    weight: float
    mean: Array
    covariance: Array


@dataclass(frozen=True, slots=True)
class Parts:
    """The parts of one pair, as a mixture over what the notes cannot tell.

    Parameters
    ----------
    player, instrument
        Names.
    notes
        The N notes, by pitch; each part is centred on their mean.
    components
        The mixture.
    """

    player: str
    instrument: str
    notes: tuple[Fingered, ...]
    components: tuple[Component, ...]

    def mixed(self, combinations: Array) -> tuple[Array, Array]:
        """Return mean and standard deviation of combinations of the 3 N parts (one per row)."""
        means, spreads, weights = [], [], []
        for component in self.components:
            through = combinations @ component.covariance
            means.append(combinations @ component.mean)
            spreads.append(np.einsum("ij,ij->i", through, combinations))
            weights.append(component.weight)
        weight, mean = np.array(weights), np.array(means)
        centre = weight @ mean
        variance = weight @ np.array(spreads) + weight @ (mean - centre) ** 2
        return centre, np.sqrt(np.maximum(variance, 0.0))

    def pairs_of(self, note: int) -> list[tuple[float, Array, Array]]:
        """Return weight, mean (2,) and covariance (2, 2) of the instrument's and player's part."""
        count = len(self.notes)
        pick = np.zeros((2, 3 * count))
        pick[0, note] = pick[1, count + note] = pick[1, 2 * count + note] = 1.0
        return [(c.weight, pick @ c.mean, pick @ c.covariance @ pick.T) for c in self.components]


def parts_of(fit: Attribution, *, player: int, instrument: int) -> Parts:
    """Return the parts of one pair of a fit, by index into its axes."""
    chosen = np.flatnonzero((fit.ideal.player == player) & (fit.ideal.instrument == instrument))
    rows = len(fit.evidence.readings) + chosen
    axes = fit.evidence.axes
    return Parts(
        axes.players[player],
        axes.instruments[instrument],
        tuple(axes.notes[i] for i in fit.ideal.note[chosen]),
        tuple(_component(node, rows) for node in fit.nodes),
    )


def _component(node: Node, rows: Numbers) -> Component:
    combinations = np.vstack(combined_parts(node.design, rows))
    bent = np.zeros((3, len(rows)))
    bent[1] = node.design.bent_cents[rows]
    bent[1] -= bent[1].mean()
    state = node.state
    mean = state.means(combinations) + bent.ravel()
    return Component(node.weight, mean, _WIDER * state.covariance(combinations))


def combined_parts(design: Design, rows: Numbers) -> tuple[Array, Array, Array]:
    """Return the instrument, breath and finger parts of some stacked readings, by effects.

    Each is centred on the mean of those readings.
    """
    parts = design.cents_by("instrument"), design.lasting_breath(), design.cents_by("fingers")
    instrument, breath, fingers = (part[rows] - part[rows].mean(axis=0) for part in parts)
    return instrument, breath, fingers
