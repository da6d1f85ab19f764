"""Learn the reference while the player is silent, and take it out of everything that is heard."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.reference import ReferencePartials
from intonation.tracking.room import (
    MOST_CLOCK_PPM,
    RoomGains,
    gram,
    heard_partials,
    learn,
    solve,
)

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

LEARNING_S = 1.4
_ASK_AGAIN_S = 0.2
_GIVE_UP_S = 8.0
_GOOD_DB, _POOR_DB = 10.0, 6.0
_INAUDIBLE = 0.03
_GUARD_STEPS, _BEFORE_NOTE_STEPS = 5, 2
_SHORTEST_RUN, _LONGEST_RUN = 8, 16
_ROOM_CHANGE = 0.1
_TAIL_DB = 3.0
_TINY = 1e-20
_CLOCK_DOUBT = 0.5e-6
_SETTLING_STEPS, _LEAST_STEPS, _DISTURBED = 5, 30, 3.0
_COINCIDING = 6
_MASKED_CENTS, _REMAINDER_DB = 8.0, 13.0
_CENTS = 1200.0 / math.log(2.0)


@dataclass(frozen=True, slots=True)
class ClearedStep:
    """A step of sound without the reference; ``trusted`` only once the reference is learned."""

    samples: Real
    trusted: bool


@dataclass(frozen=True, slots=True)
class RoomFit:
    """A fit to the samples from ``begin`` to ``end``, and the energy there and that it explains."""

    room: RoomGains
    begin: int
    end: int
    energy: float
    explained: float

    @property
    def suppression_db(self) -> float:
        """How far the fit brings the sound down."""
        rest = max(self.energy - self.explained, _TINY)
        return 10.0 * math.log10((self.energy + _TINY) / rest)


class ReferenceInRoom:
    """Takes one steady reference out of the sound, step by step.

    Parameters
    ----------
    reference
        Its partials.
    rate_hz, step_samples
        Sample rate of the steps and samples in each.
    first_step
        Number of the first step that will be fed.

    Notes
    -----
    Nothing is adapted while a note sounds: a fit to the mixture would take the player for a part of
    the reference. `heard_silence` and `heard_note` say afterwards which steps were which.
    """

    def __init__(
        self, reference: ReferencePartials, *, rate_hz: float, step_samples: int, first_step: int
    ) -> None:
        self._omegas, self._nominal = heard_partials(reference, rate_hz)
        self._step = step_samples
        self._rate_hz = rate_hz
        self._next = first_step
        self._learning_steps = round(LEARNING_S * rate_hz / step_samples)
        self._ask_again_steps = round(_ASK_AGAIN_S * rate_hz / step_samples)
        self._give_up_at = first_step + round(_GIVE_UP_S * rate_hz / step_samples)
        self._waiting: list[Real] = []
        self._room: RoomGains | None = None
        self._clock_spread = 0.0
        self._anchor = 0.0
        self._residuals: dict[int, tuple[Complex, float]] = {}
        self._run: list[int] = []
        self._guard = 0
        self.suppression_db: float | None = None
        self.implausible = False
        self._set_clock(0.0)

    @property
    def clock_ppm(self) -> float | None:
        """How much faster the reference runs than its nominal frequencies; None until learned."""
        return None if self._room is None else 1e6 * self._room.clock

    def feed(self, step: Real) -> list[ClearedStep]:
        """Take the next step; return the steps that are ready, in order."""
        if self._omegas.size == 0:
            return [ClearedStep(step, True)]
        if self._room is not None:
            return [ClearedStep(self._cleared(step), True)]
        self._waiting.append(step)
        if len(self._waiting) < self._learning_steps:
            return []
        return self._try_to_learn()

    def finish(self) -> list[ClearedStep]:
        """Return the steps that were still waiting to be understood."""
        waiting, self._waiting = self._waiting, []
        return [ClearedStep(step, False) for step in waiting]

    def heard_silence(self, step_number: int) -> None:
        """Say that nobody played in this step; steps are named in order."""
        if self._guard > 0:
            self._guard -= 1
        elif step_number in self._residuals:
            self._run.append(step_number)
        for old in [n for n in self._residuals if n <= step_number and n not in self._run]:
            del self._residuals[old]
        if len(self._run) >= _LONGEST_RUN:
            self._adapt()

    def heard_note(self, last_step: int) -> None:
        """Say that somebody played up to this step."""
        self._run = [n for n in self._run if n < last_step - _BEFORE_NOTE_STEPS]
        if len(self._run) >= _SHORTEST_RUN:
            self._adapt()
        self._run = []
        self._guard = _GUARD_STEPS
        for old in [n for n in self._residuals if n <= last_step]:
            del self._residuals[old]

    def floor_db(self, f0_hz: float) -> float:
        """Return the level below which a note of this pitch may be a remainder of the reference.

        Parameters
        ----------
        f0_hz
            Fundamental in question.

        Returns
        -------
        float
            RMS level in dBFS; minus infinity where no partial coincides with the reference.
        """
        if self._room is None:
            return -math.inf
        multiples = f0_hz * 2.0 * np.pi / self._rate_hz * np.arange(1, _COINCIDING + 1)
        off = np.abs(np.log(self._turning[:, None] / multiples)) * _CENTS
        power = 0.5 * float(
            np.sum(np.abs(self._room.gains[np.any(off < _MASKED_CENTS, axis=1)]) ** 2)
        )
        return -math.inf if power <= _TINY else 10.0 * math.log10(power) - _REMAINDER_DB

    def _expected_power(self) -> Real:
        """Return each squared gain, or what it would be if the room coloured nothing."""
        assert self._room is not None
        found = np.abs(self._room.gains) ** 2
        return np.asarray(np.maximum(found, self._nominal * float(np.sum(found))))

    def _try_to_learn(self) -> list[ClearedStep]:
        projections = np.array(
            [self._projected(s, self._next + k) for k, s in enumerate(self._waiting)]
        )
        energies = np.array([float(step @ step) for step in self._waiting])
        fit = _settled_fit(projections, energies, self._omegas, self._next, self._step)
        given_up = self._next + len(self._waiting) >= self._give_up_at
        plausible = abs(fit.room.clock) * 1e6 <= MOST_CLOCK_PPM
        if fit.explained < _INAUDIBLE * fit.energy or fit.energy <= _TINY:
            return self._accept(_nothing_of(fit), None)
        if fit.suppression_db >= _GOOD_DB and plausible:
            return self._accept(fit, fit.suppression_db)
        if given_up:
            self.implausible = fit.suppression_db < _POOR_DB or not plausible
            kept = _nothing_of(fit) if self.implausible else fit
            return self._accept(kept, fit.suppression_db)
        let_go = self._waiting[: self._ask_again_steps]
        self._waiting = self._waiting[self._ask_again_steps :]
        self._next += len(let_go)
        return [ClearedStep(step, False) for step in let_go]

    def _accept(self, fit: RoomFit, suppression_db: float | None) -> list[ClearedStep]:
        self._room, self.suppression_db = fit.room, suppression_db
        self._set_clock(fit.room.clock)
        count = fit.end - fit.begin
        error = self._shift_variance((fit.energy - fit.explained) / count, count)
        self._clock_spread = 12.0 * error / count**2 + _CLOCK_DOUBT**2
        self._anchor = 0.5 * (fit.begin + fit.end)
        steps, self._waiting = self._waiting, []
        settled_from = fit.begin // self._step
        return [
            ClearedStep(self._cleared(step), number >= settled_from)
            for number, step in enumerate(steps, start=self._next)
        ]

    def _set_clock(self, clock: float) -> None:
        self._turning = self._omegas * (1.0 + clock)
        turns = np.outer(np.arange(self._step), self._turning)
        self._cosines, self._sines = np.cos(turns), np.sin(turns)

    def _projected(self, step: Real, number: int) -> Complex:
        turned = np.exp(-1j * self._turning * float(number * self._step))
        return np.asarray((step @ self._cosines - 1j * (step @ self._sines)) * turned)

    def _cleared(self, step: Real) -> Real:
        assert self._room is not None
        turned = np.exp(1j * self._turning * float(self._next * self._step))
        gains = self._room.gains * turned
        cleared = step - (self._cosines @ gains.real - self._sines @ gains.imag)
        self._residuals[self._next] = (
            self._projected(cleared, self._next),
            float(cleared @ cleared),
        )
        self._next += 1
        return np.asarray(cleared)

    def _shift_variance(self, noise_power: float, count: int) -> float:
        """Return the variance of a common shift in time, in samples squared, from noise alone."""
        assert self._room is not None
        strength = float(np.sum(self._omegas**2 * np.abs(self._room.gains) ** 2))
        return 2.0 * noise_power / (count * strength + _TINY)

    def _adapt(self) -> None:
        """Correct gains and clock by what is left of the reference in a silence."""
        assert self._room is not None
        run, self._run = self._run, []
        energies = np.array([self._residuals[n][1] for n in run])
        left = np.sum([self._residuals[n][0] for n in run], axis=0)
        for number in run:
            del self._residuals[number]
        half = len(run) // 2
        if np.sum(energies[:half]) > 10.0 ** (_TAIL_DB / 10.0) * np.sum(energies[half : 2 * half]):
            return
        begin, end = run[0] * self._step, (run[-1] + 1) * self._step
        if run[-1] - run[0] + 1 != len(run):
            return
        size = np.abs(self._room.gains)
        noise_power = float(np.median(energies)) / self._step
        prior = (_ROOM_CHANGE * (size + 0.03 * np.max(size))) ** 2 + _TINY
        penalty = 4.0 * noise_power / prior
        change = solve(gram(self._turning, begin=begin, end=end), left, penalty=penalty)
        gains = self._room.gains + change
        shift, variance = self._common_shift(change, noise_power, end - begin)
        middle = 0.5 * (begin + end)
        since = middle - self._anchor
        weight = self._clock_spread * since / (self._clock_spread * since**2 + variance)
        self._clock_spread *= 1.0 - weight * since
        self._anchor = middle
        faster = weight * shift
        gains = gains * np.exp(-1j * self._omegas * faster * middle)
        self._room = RoomGains(gains, self._room.clock + faster)
        self._set_clock(self._room.clock)
        power = 0.5 * float(np.sum(np.abs(gains) ** 2))
        self.suppression_db = 10.0 * float(np.log10((power + _TINY) / (noise_power + _TINY)))

    def _common_shift(self, change: Complex, noise_power: float, count: int) -> tuple[float, float]:
        """Return by how much all partials are ahead, in samples, and the variance of that."""
        assert self._room is not None
        gains = self._room.gains
        weights = self._omegas**2 * np.abs(gains) ** 2
        ahead = (gains.conj() * change).imag / (np.abs(gains) ** 2 + _TINY)
        total = float(np.sum(weights)) + _TINY
        shift = float(np.sum(self._omegas * np.abs(gains) ** 2 * ahead)) / total
        rest = ahead - self._omegas * shift
        scatter = float(np.sum(np.abs(gains) ** 2 * rest**2)) / max(gains.size - 1, 1)
        return shift, max(scatter / total * gains.size, self._shift_variance(noise_power, count))


def _settled_fit(
    projections: Complex, energies: Real, omegas: Real, first_step: int, step: int
) -> RoomFit:
    """Fit to the part in which the reference has filled the room: the one that leaves least over.

    A reference that has just begun builds up in the room; the parts tried begin ever later.
    """
    fits = []
    for skip in range(0, max(1, energies.size - _LEAST_STEPS), _SETTLING_STEPS):
        begin = (first_step + skip) * step
        room, explained = learn(projections[skip:], omegas, begin=begin, step=step)
        end = (first_step + energies.size) * step
        fits.append(RoomFit(room, begin, end, float(np.sum(energies[skip:])), explained))
    best = max(fit.suppression_db for fit in fits)
    return next(fit for fit in fits if fit.suppression_db > best - _DISTURBED)


def _nothing_of(fit: RoomFit) -> RoomFit:
    silent = RoomGains(np.zeros_like(fit.room.gains), 0.0)
    return RoomFit(silent, fit.begin, fit.end, fit.energy, 0.0)
