"""Learn the reference while the player is silent, and take it out of everything that is heard."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.reference import ReferencePartials
from intonation.tracking.room import (
    MOST_CLOCK_PPM,
    RoomGains,
    angular_frequencies,
    gram,
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
_GUARD_STEPS = 5
_SHORTEST_RUN, _LONGEST_RUN = 8, 16
_ROOM_CHANGE = 0.1
_TAIL_DB = 3.0
_TINY = 1e-20


@dataclass(frozen=True, slots=True)
class ClearedStep:
    """A step of sound without the reference; ``trusted`` only once the reference is learned."""

    samples: Real
    trusted: bool


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
        self._omegas = angular_frequencies(reference, rate_hz)
        self._step = step_samples
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
            return [self._cleared(step)]
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
        if len(self._run) >= _SHORTEST_RUN:
            self._adapt()
        self._run = []
        self._guard = _GUARD_STEPS
        for old in [n for n in self._residuals if n <= last_step]:
            del self._residuals[old]

    def _try_to_learn(self) -> list[ClearedStep]:
        begin_step = self._next
        projections = np.array(
            [self._projected(s, begin_step + k) for k, s in enumerate(self._waiting)]
        )
        room, explained = learn(
            projections, self._omegas, begin=begin_step * self._step, step=self._step
        )
        energy = sum(float(step @ step) for step in self._waiting)
        rest = max(energy - explained, _TINY)
        suppression_db = 10.0 * float(np.log10((energy + _TINY) / rest))
        given_up = begin_step + len(self._waiting) >= self._give_up_at
        inaudible = explained < _INAUDIBLE * energy
        plausible = abs(room.clock) * 1e6 <= MOST_CLOCK_PPM
        if inaudible or energy <= _TINY:
            return self._accept(RoomGains(np.zeros_like(room.gains), 0.0), None, rest)
        if suppression_db >= _GOOD_DB and plausible:
            return self._accept(room, suppression_db, rest)
        if given_up:
            self.implausible = suppression_db < _POOR_DB or not plausible
            kept = room if not self.implausible else RoomGains(np.zeros_like(room.gains), 0.0)
            return self._accept(kept, suppression_db, rest)
        let_go = self._waiting[: self._ask_again_steps]
        self._waiting = self._waiting[self._ask_again_steps :]
        self._next += len(let_go)
        return [ClearedStep(step, False) for step in let_go]

    def _accept(
        self, room: RoomGains, suppression_db: float | None, rest: float
    ) -> list[ClearedStep]:
        self._room, self.suppression_db = room, suppression_db
        self._set_clock(room.clock)
        steps, self._waiting = self._waiting, []
        count = len(steps) * self._step
        error = self._shift_variance(rest / count, count)
        self._clock_spread = 12.0 * error / count**2 + (0.02e-6) ** 2
        self._anchor = (self._next + 0.5 * len(steps)) * self._step
        return [self._cleared(step) for step in steps]

    def _set_clock(self, clock: float) -> None:
        self._turning = self._omegas * (1.0 + clock)
        self._waves = np.exp(1j * np.outer(np.arange(self._step), self._turning))

    def _projected(self, step: Real, number: int) -> Complex:
        turned = np.exp(-1j * self._turning * float(number * self._step))
        return np.asarray((step @ self._waves).conj() * turned)

    def _cleared(self, step: Real) -> ClearedStep:
        assert self._room is not None
        turned = np.exp(1j * self._turning * float(self._next * self._step))
        cleared = step - (self._waves @ (self._room.gains * turned)).real
        self._residuals[self._next] = (
            self._projected(cleared, self._next),
            float(cleared @ cleared),
        )
        self._next += 1
        return ClearedStep(cleared, True)

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
