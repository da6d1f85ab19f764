"""Each note's deviation in parts: instrument, breath and fingers, centred, and how surely."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from intonation.diagnosis.attribution import Attribution, Node
from intonation.diagnosis.design import Design
from intonation.diagnosis.odd_ones import (
    ODD_FINGERS_CENTS,
    NoteEffects,
    NoteMixture,
    centred,
    with_odd_ones,
)
from intonation.diagnosis.readings import Array, Fingered, Numbers

HALF_WIDTH_90 = 1.6448536269514722
"""Half of a 90 % interval of a normal distribution, in standard deviations."""
WIDER = 1.17
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
    of_notes
        The parts of each note apart: the mixture, and whatever may be odd about that note.
    """

    player: str
    instrument: str
    notes: tuple[Fingered, ...]
    components: tuple[Component, ...]
    of_notes: tuple[NoteMixture, ...]

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
        mixture = self.of_notes[note]
        means = mixture.mean @ _BOTH.T
        covariances = _BOTH @ mixture.covariance @ _BOTH.T
        return list(zip(mixture.weight.tolist(), means, covariances, strict=True))


_BOTH = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 1.0]])


def parts_of(fit: Attribution, *, player: int, instrument: int) -> Parts:
    """Return the parts of one pair of a fit, by index into its axes."""
    chosen = np.flatnonzero((fit.ideal.player == player) & (fit.ideal.instrument == instrument))
    rows = len(fit.evidence.readings) + chosen
    axes = fit.evidence.axes
    notes = fit.ideal.note[chosen]
    own = [
        # The columns are the same under every setting.
        fit.nodes[0].design.own_effects(row, _middles(fit, player, instrument, note))
        for row, note in zip(rows.tolist(), notes.tolist(), strict=True)
    ]
    seen = [_seen(node, rows, own) for node in fit.nodes]
    return Parts(
        axes.players[player],
        axes.instruments[instrument],
        tuple(axes.notes[note] for note in notes),
        tuple(component for component, _ in seen),
        centred(
            with_odd_ones([of_notes[i] for _, of_notes in seen], wider=WIDER)
            for i in range(len(notes))
        ),
    )


def notes_of(components: Sequence[Component]) -> tuple[NoteMixture, ...]:
    """Return the parts of each note apart, when nothing is odd about any of them."""
    count = len(components[0].mean) // 3
    weight = np.array([component.weight for component in components])
    places = [note + count * np.arange(3) for note in range(count)]
    return tuple(
        NoteMixture(
            weight,
            np.array([component.mean[at] for component in components]),
            np.array([component.covariance[np.ix_(at, at)] for component in components]),
        )
        for at in places
    )


def _middles(fit: Attribution, player: int, instrument: int, note: int) -> Numbers:
    seen = fit.evidence.readings
    own = (seen.player == player) & (seen.instrument == instrument) & (seen.note == note)
    return np.flatnonzero(own & seen.middle)


def _seen(node: Node, rows: Numbers, own: Sequence[Numbers]) -> tuple[Component, list[NoteEffects]]:
    """Return all parts given one setting, and each note's with its own effects."""
    combinations = np.vstack(combined_parts(node.design, rows))
    bent = np.zeros((3, len(rows)))
    bent[1] = node.design.bent_cents[rows]
    bent[1] -= bent[1].mean()
    columns = np.concatenate(own)
    mean = np.append(node.state.means(combinations) + bent.ravel(), node.state.mean[columns])
    covariance = node.state.with_effects(combinations, columns)
    parts = len(combinations)
    component = Component(node.weight, mean[:parts], WIDER * covariance[:parts, :parts])
    ends = parts + np.cumsum([len(effects) for effects in own])
    of_notes = []
    for note, (effects, end) in enumerate(zip(own, ends.tolist(), strict=True)):
        at = [note, note + len(rows), note + 2 * len(rows), *range(end - len(effects), end)]
        joint, here = covariance[np.ix_(at, at)], mean[at]
        of_notes.append(
            NoteEffects(
                node.weight,
                here[:3],
                joint[:3, :3],
                here[3:],
                joint[3:, 3:],
                joint[:3, 3:],
                node.state.prior_variance[effects],
                _least_odd(len(effects)),
            )
        )
    return component, of_notes


def _least_odd(effects: int) -> Array:
    """Return how large odd effects are at least: of the instrument, of the fingers, and so on."""
    least = np.zeros(effects)
    least[1] = ODD_FINGERS_CENTS
    return least


def combined_parts(design: Design, rows: Numbers) -> tuple[Array, Array, Array]:
    """Return the instrument, breath and finger parts of some stacked readings, by effects.

    Each is centred on the mean of those readings.
    """
    here = design.where(rows)
    parts = here.cents_by("instrument"), here.lasting_breath(), here.cents_by("fingers")
    instrument, breath, fingers = (part - part.mean(axis=0) for part in parts)
    return instrument, breath, fingers
