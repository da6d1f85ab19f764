"""A whole store of players and instruments at once: every session sharpens every verdict.

Pairs come reduced to their information (``pair_information``). What belongs to a pair alone is
integrated out within it; then each player is eliminated (a Schur complement), one dense system
of all instruments is left, and players follow from it. These are Henderson's mixed-model
equations in blocks.
"""

from dataclasses import dataclass

import numpy as np

from intonation.diagnosis import magnitudes
from intonation.diagnosis.bending import Bending
from intonation.diagnosis.effects import RANGE_SHARE, Setting, habit_cents
from intonation.diagnosis.inverse_root import inverse_root
from intonation.diagnosis.magnitudes import FIXED
from intonation.diagnosis.pair_information import UNKNOWNS, PairInformation
from intonation.diagnosis.parts import Component
from intonation.diagnosis.readings import Array, Axes, Numbers

_OWN_SHARE = 0.3
_FLOOR_CENTS = 0.6
"""What curvature, slopes and shares that differ between players add to every part."""


@dataclass(frozen=True, slots=True)
class _Link:
    """How a pair's unknowns follow from its instrument's and its player's.

    Parameters
    ----------
    to_instrument, to_player
        (4 N, 3 N) and (4 N, 2 N): instrument offsets, loudness and middle of the range; fingers and
        breath.
    matrix, vector
        The pair's information with what belongs to the pair alone integrated out.
    own_gain
        (2 N, 4 N): what the pair's own fingers and breath take from a surprise.
    own_vector
        (2 N,): their share of the information vector.
    own_covariance
        (2 N, 2 N): what is left unknown of them.
    """

    player: int
    instrument: int
    to_instrument: Array
    to_player: Array
    matrix: Array
    vector: Array
    own_gain: Array
    own_vector: Array
    own_covariance: Array


@dataclass(frozen=True, slots=True)
class PooledPair:
    """Parts of a pair in the pooled store: indices, the notes it has played, means, covariance."""

    player: int
    instrument: int
    notes: tuple[int, ...]
    component: Component


def pooled_parts(
    pairs: list[PairInformation],
    *,
    axes: Axes,
    bending: Bending,
    log_size: Array,
    setting: Setting,
) -> list[PooledPair]:
    """Return the parts of every pair of a store.

    Parameters
    ----------
    pairs
        Their information.
    axes, bending
        Names, and how the notes bend.
    log_size
        Log sizes of the free effects.
    setting
        What is taken for granted.
    """
    size = dict(zip(magnitudes.FREE, np.array(magnitudes.SIZES) * np.exp(log_size), strict=True))
    links = [_link(pair, axes, bending, size, setting) for pair in pairs]
    system = _System(axes, size, links)
    return [
        _pair_parts(pair, link, system, bending) for pair, link in zip(pairs, links, strict=True)
    ]


def _link(
    pair: PairInformation,
    axes: Axes,
    bending: Bending,
    size: dict[str, float],
    setting: Setting,
) -> _Link:
    n = len(axes.notes)
    eye = np.eye(n)
    to_instrument, to_player = np.zeros((UNKNOWNS * n, 3 * n)), np.zeros((UNKNOWNS * n, 2 * n))
    to_instrument[:n, :n] = eye
    softer = setting.compensation / bending.cents_per_db[pair.instrument]
    to_instrument[2 * n : 3 * n, :n] = -np.diag(softer)
    to_instrument[3 * n :, n : 2 * n] = eye
    to_instrument[2 * n : 3 * n, 2 * n :] = -eye
    to_instrument[:n, 2 * n :] = RANGE_SHARE * np.diag(bending.cents_per_db[pair.instrument])
    to_player[n : 2 * n, :n] = eye
    to_player[2 * n : 3 * n, n:] = eye
    own_sd = np.concatenate([habit_cents(axes) * size["habit"], np.full(n, size["breath"])])
    own = slice(n, 3 * n)
    left = _inverse(pair.matrix[own, own] + np.diag((_OWN_SHARE * own_sd) ** -2.0))
    gain = left @ pair.matrix[own]
    matrix = pair.matrix - gain.T @ pair.matrix[own]
    vector = pair.vector - gain.T @ pair.vector[own]
    return _Link(
        pair.player,
        pair.instrument,
        to_instrument,
        to_player,
        matrix,
        vector,
        gain,
        left @ pair.vector[own],
        left,
    )


def _inverse(matrix: Array) -> Array:
    root = inverse_root(matrix)
    return root.T @ root


def _prior_instrument(axes: Axes, size: dict[str, float]) -> Array:
    """Return the inverse prior covariance of an instrument's offsets, loudness and middles."""
    o, up = axes.octaves, axes.upper
    bow = o**2 - 0.4
    n, eye = len(o), np.eye(len(o))
    offset = FIXED.tilt_cents**2 * np.outer(o, o) + FIXED.register_cents**2 * np.outer(up, up)
    offset += FIXED.bow_cents**2 * np.outer(bow, bow)
    offset *= (size["unevenness"] / magnitudes.size_of("unevenness")) ** 2
    offset += size["unevenness"] ** 2 * eye
    loud = FIXED.loudness_tilt_db**2 * np.outer(o, o) + size["loudness"] ** 2 * eye
    loud += FIXED.loudness_bow_db**2 * np.outer(bow, bow)
    prior = np.zeros((3 * n, 3 * n))
    prior[:n, :n] = np.linalg.inv(offset)
    prior[n : 2 * n, n : 2 * n] = np.linalg.inv(loud)
    prior[2 * n :, 2 * n :] = eye / FIXED.range_db**2
    return prior


def _prior_player(axes: Axes, size: dict[str, float]) -> Array:
    """Return the inverse prior covariance of what a player's fingers and breath do."""
    o, up = axes.octaves, axes.upper
    bow = o**2 - 0.4
    n, eye = len(o), np.eye(len(o))
    thumb = np.array([float(note.fingering == "thumb") for note in axes.notes])
    fingers = np.diag((habit_cents(axes) * size["habit"]) ** 2)
    fingers += (magnitudes.THUMB_HABIT_CENTS * size["habit"]) ** 2 * np.outer(thumb, thumb)
    shapes = FIXED.breath_tilt_db**2 * np.outer(o, o) + FIXED.breath_bow_db**2 * np.outer(bow, bow)
    shapes += FIXED.breath_register_db**2 * np.outer(up, up)
    shapes *= (size["breath"] / magnitudes.size_of("breath")) ** 2
    breath = FIXED.breath_db**2 + shapes + size["breath"] ** 2 * eye
    prior = np.zeros((2 * n, 2 * n))
    prior[:n, :n] = np.linalg.inv(fingers)
    prior[n:, n:] = np.linalg.inv(breath)
    return prior


class _System:
    """The blocks of the mixed-model equations, and their solution."""

    def __init__(self, axes: Axes, size: dict[str, float], links: list[_Link]) -> None:
        self.width = 3 * len(axes.notes)
        players, instruments = len(axes.players), len(axes.instruments)
        prior_k, prior_p = _prior_instrument(axes, size), _prior_player(axes, size)
        dense: Array = np.kron(np.eye(instruments), prior_k).astype(np.float64)
        right: Array = np.zeros(instruments * self.width)
        self.player_inverse: list[Array] = []
        self.coupling: list[dict[int, Array]] = [{} for _ in range(players)]
        own: list[Array] = [prior_p.copy() for _ in range(players)]
        own_right: list[Array] = [np.zeros(len(prior_p)) for _ in range(players)]
        for link in links:
            k = self.place(link.instrument)
            through = link.to_instrument.T @ link.matrix
            dense[k, k] += through @ link.to_instrument
            right[k] += link.to_instrument.T @ link.vector
            self.coupling[link.player][link.instrument] = through @ link.to_player
            own[link.player] += link.to_player.T @ link.matrix @ link.to_player
            own_right[link.player] += link.to_player.T @ link.vector
        for player in range(players):
            inverse = _inverse(own[player])
            self.player_inverse.append(inverse)
            self._eliminate(dense, right, player, own_right[player])
        self.covariance = _inverse(dense)
        self.instruments = self.covariance @ right
        self.players = [self._player(p, own_right[p]) for p in range(players)]
        self.together = [self._with_instruments(p) for p in range(players)]

    def place(self, instrument: int) -> slice:
        return slice(instrument * self.width, (instrument + 1) * self.width)

    def _eliminate(self, dense: Array, right: Array, player: int, own_right: Array) -> None:
        inverse = self.player_inverse[player]
        for first, block in self.coupling[player].items():
            solved = block @ inverse
            right[self.place(first)] -= solved @ own_right
            for second, other in self.coupling[player].items():
                dense[self.place(first), self.place(second)] -= solved @ other.T

    def _player(self, player: int, own_right: Array) -> Array:
        right = own_right.copy()
        for instrument, block in self.coupling[player].items():
            right -= block.T @ self.instruments[self.place(instrument)]
        mean: Array = self.player_inverse[player] @ right
        return mean

    def _with_instruments(self, player: int) -> tuple[dict[int, Array], Array]:
        """Return the covariance of each of a player's instruments with the player, and his own."""
        coupling = self.coupling[player]
        rows = np.concatenate([np.arange(self.width) + self.width * k for k in coupling])
        taken = np.vstack(list(coupling.values())) @ self.player_inverse[player]
        across = {k: -self.covariance[self.place(k)][:, rows] @ taken for k in coupling}
        own = self.player_inverse[player] - taken.T @ np.vstack(list(across.values()))
        return across, own

    def joint(self, player: int, instrument: int) -> tuple[Array, Array]:
        """Return mean and covariance of an instrument's unknowns and a player's, stacked."""
        k = self.place(instrument)
        each, own = self.together[player]
        across = each[instrument]
        covariance = np.block([[self.covariance[k, k], across], [across.T, own]])
        return np.concatenate([self.instruments[k], self.players[player]]), covariance


def _pair_parts(
    pair: PairInformation, link: _Link, system: _System, bending: Bending
) -> PooledPair:
    n = len(pair.seen)
    mean, covariance = system.joint(link.player, link.instrument)
    through = np.hstack([link.to_instrument, link.to_player])
    own = slice(n, 3 * n)
    unknown = through.copy()
    unknown[own] -= link.own_gain @ through
    value = unknown @ mean
    value[own] += link.own_vector
    spread = unknown @ covariance @ unknown.T
    spread[own, own] += link.own_covariance
    notes = np.flatnonzero(pair.seen)
    slope, curvature = bending.cents_per_db[pair.instrument], bending.curvature[pair.instrument]
    breath = value[2 * n : 3 * n]
    acting = slope + 2.0 * curvature * breath
    pick = np.zeros((3 * n, UNKNOWNS * n))
    pick[:n, :n] = pick[2 * n :, n : 2 * n] = np.eye(n)
    pick[n : 2 * n, 2 * n : 3 * n] = np.diag(acting)
    parts_mean = pick @ value
    parts_mean[n : 2 * n] = slope * breath + curvature * breath**2
    parts_spread = pick @ spread @ pick.T
    parts_spread[np.diag_indices(3 * n)] += _left_out(pair, bending, breath)
    return PooledPair(
        link.player,
        link.instrument,
        tuple(notes.tolist()),
        _centred(parts_mean, parts_spread, notes, n),
    )


def _left_out(pair: PairInformation, bending: Bending, breath: Array) -> Array:
    slope_error = (bending.cents_per_db_sd[pair.instrument] * (breath - breath.mean())) ** 2
    floor = np.full(len(breath), _FLOOR_CENTS**2)
    return np.concatenate([floor, floor / 2.0 + slope_error, floor / 2.0])


def _centred(mean: Array, spread: Array, notes: Numbers, n: int) -> Component:
    chosen = np.concatenate([notes, n + notes, 2 * n + notes])
    count = len(notes)
    centre = np.kron(np.eye(3), np.eye(count) - 1.0 / count)
    kept = spread[np.ix_(chosen, chosen)]
    return Component(1.0, centre @ mean[chosen], centre @ kept @ centre.T)
