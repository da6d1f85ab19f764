"""Where the fundamental roughly is, every hop: spectra, harmonic sums, and phase advance."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.constant_sound import ConstantSound

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

WINDOW_S = 0.048
"""Four periods of a contrabass recorder's lowest note: its partials still stand apart."""

_ORDERS = np.arange(1.0, 9.0)
_COUNTING = np.arange(1.0, 500.0)
_DIVISORS = np.arange(1, 7)
_TURN = 2.0 * math.pi
_OWN_ORDERS = {
    divisor: np.flatnonzero(np.gcd(np.arange(1, _ORDERS.size + 1), divisor) == 1)
    for divisor in _DIVISORS.tolist()
}
"""Places of the partials that no fundamental between this one and the strongest peak explains."""
_STRONG, _KEPT, _WEAK = 10.0**-1.4, 10.0**-1.8, 10.0**-2.6
_SAME_PART = 0.02
_ADVANCE_ORDERS = np.arange(1.0, 6.0)
_FARTHEST_CENTS = 40.0
_CROWDED, _LEAST_CROWDED_NOISE = 3.0, 0.01
_SOUNDING_HNR_DB = 4.0
_TINY = 1e-30


@dataclass(frozen=True, slots=True)
class CoarseFrame:
    """What one window shows.

    Parameters
    ----------
    index
        Number of the hop at the centre of the window.
    f0_hz
        Best guess of a fundamental, whether or not a note sounds.
    advance_hz
        Fundamental from the advance of phase since the frame before; belongs half a hop earlier.
    harmonic_db
        RMS level of the partials in dBFS.
    level_db
        RMS level of everything above the lowest fundamental in dBFS.
    harmonic_to_noise_db
        Partials over everything else.
    mean_order
        Number of the partial about which their power lies.
    masked
        Whether this may be a remainder of the reference that sounds in the room.
    constant
        Whether it has been there for seconds.
    """

    index: int
    f0_hz: float
    advance_hz: float
    harmonic_db: float
    level_db: float
    harmonic_to_noise_db: float
    mean_order: float = 1.0
    masked: bool = False
    constant: bool = False


class CoarseAnalysis:
    """Turns steps of samples into coarse frames, one every hop.

    Parameters
    ----------
    rate_hz, hop_samples
        Sample rate, and distance of the windows.
    lowest_hz, highest_hz
        Range of the fundamental.
    """

    def __init__(
        self, rate_hz: float, hop_samples: int, *, lowest_hz: float, highest_hz: float
    ) -> None:
        self._rate_hz, self._hop = rate_hz, hop_samples
        count = 2 * round(WINDOW_S * rate_hz / 2.0)
        self._window = np.hanning(count + 1)[:count]
        self._size = _smooth_number(2 * count)
        lag_hops = math.ceil(count / 2 / hop_samples) - 1
        self._held = np.zeros(count // 2 + lag_hops * hop_samples)
        self._next_index = -lag_hops
        self._before: Complex | None = None
        self._found_before_hz = 0.0
        bin_hz = rate_hz / self._size
        self._bin_hz = bin_hz
        self._lowest_hz = lowest_hz
        self._floor_bin = round(0.75 * lowest_hz / bin_hz)
        self._band = slice(round(0.95 * lowest_hz / bin_hz), self._top_bin(highest_hz))
        self._lobe_bins = 2.0 * self._size / count
        self._power_scale = 2.0 / (self._size * np.sum(self._window**2))
        self._peak_scale = 2.0 / np.sum(self._window) ** 2
        self._constant = ConstantSound(self._size // 2 + 1)
        self._whole_from = math.ceil(count / 2 / hop_samples)
        self._twist = 2.0 * math.pi * hop_samples / rate_hz

    def _top_bin(self, highest_hz: float) -> int:
        return min(round(1.05 * highest_hz / self._bin_hz), self._size // 2 - 8)

    def feed(self, steps: Real) -> list[CoarseFrame]:
        """Take any number of whole steps of samples and return their frames."""
        held = np.concatenate([self._held, steps])
        windows = np.lib.stride_tricks.sliding_window_view(held, self._window.size)
        spectra = np.fft.rfft(windows[: steps.size : self._hop] * self._window, self._size)
        self._held = held[steps.size :]
        power = spectra.real**2 + spectra.imag**2
        totals = power[:, self._floor_bin :].sum(axis=1).tolist()
        by_frame = zip(power, totals, _peaks_of(power), self._strongest(power), strict=True)
        found = [self._found(*each) for each in by_frame]
        advances_hz = self._advanced(spectra, np.array([one.f0_hz for one in found]))
        return [replace(f, advance_hz=hz) for f, hz in zip(found, advances_hz, strict=True)]

    def _found(self, power: Real, sum_of_all: float, peaks: Real, strongest: int) -> CoarseFrame:
        """Return what a power spectrum shows by itself."""
        rest, others = power, peaks
        if self._constant.matters_beside(sum_of_all):
            rest = self._constant.without(power)
            others = _peaks_of(rest[None])[0]
        f0_hz, mine = self._fundamental(power, strongest, peaks, others)
        sum_of_mine = float(mine.sum())
        harmonic = sum_of_mine * self._peak_scale
        total = sum_of_all * self._power_scale
        noise = max(total - harmonic, _LEAST_CROWDED_NOISE * total)
        if f0_hz > self._bin_hz * _CROWDED * self._lobe_bins:
            noise = self._noise(rest[self._floor_bin :].cumsum(), f0_hz) * self._power_scale
        place = round(f0_hz / self._bin_hz)
        frame = CoarseFrame(
            self._next_index,
            f0_hz,
            f0_hz,
            10.0 * math.log10(harmonic + _TINY),
            10.0 * math.log10(total + _TINY),
            10.0 * math.log10((harmonic + _TINY) / (noise + _TINY)),
            float(mine @ _ORDERS) / (sum_of_mine + _TINY),
            constant=self._constant.explains(float(power[place]), place=place),
        )
        is_quiet = frame.harmonic_to_noise_db < _SOUNDING_HNR_DB or frame.constant
        if is_quiet and self._next_index >= self._whole_from:
            self._constant.learn(power)
        self._found_before_hz = f0_hz
        self._next_index += 1
        return frame

    def _strongest(self, power: Real) -> list[int]:
        """Return the bin of the strongest peak of every spectrum."""
        begin, end = self._band.start, self._band.stop
        inner, below, above = (power[:, begin + by : end + by] for by in (0, -1, 1))
        is_peak = (inner >= below) & (inner > above)
        places: list[int] = (begin + (inner * is_peak).argmax(axis=1)).tolist()
        return places

    def _fundamental(
        self, power: Real, strongest: int, peaks: Real, others: Real
    ) -> tuple[float, Real]:
        """Return the lowest frequency of which the strongest peak is a partial, and its peaks.

        Of the fundamental and the partials that no higher fundamental would explain as well, one
        has to be strong and the other there: half-integer components of a recorder are weak. A
        room that all but swallows a fundamental does not raise the octave in the middle of a note.
        What is there all the time is no partial: it is missing in ``others``.
        """
        place = strongest + _summit(power[strongest - 1 : strongest + 2])
        highest = float(power[strongest])
        weak = _WEAK * highest
        firsts = _at(others, place / _DIVISORS).tolist()
        for divisor in range(len(firsts), 1, -1):
            f0_hz = place * self._bin_hz / divisor
            if firsts[divisor - 1] < weak or f0_hz < self._lowest_hz:
                continue
            mine = _at(others, place / divisor * _ORDERS)
            found = float(mine[0]), float(mine[_OWN_ORDERS[divisor]][1:].max())
            strong = _KEPT if self._was_at(f0_hz) else _STRONG
            if min(found) > weak and max(found) > strong * highest:
                return f0_hz, mine
        return place * self._bin_hz, _at(peaks, place * _ORDERS)

    def _was_at(self, f0_hz: float) -> bool:
        return abs(f0_hz - self._found_before_hz) < _SAME_PART * f0_hz

    def _noise(self, sums: Real, f0_hz: float) -> float:
        """Return the power between the partials, scaled up to the whole band."""
        spacing = f0_hz / self._bin_hz
        reach = min(self._lobe_bins, 0.35 * spacing)
        last = sums.size - 1
        count = int((last + self._floor_bin) / spacing)
        centres = _COUNTING[:count] * spacing - (self._floor_bin - 0.5)
        begins, ends = ((centres + by).astype(np.intp) for by in (-reach - 1.0, reach))
        lobes = sums.take(ends, mode="clip") - sums.take(begins, mode="clip")
        covered = (2.0 * reach + 1.0) * count
        free = max(sums.size - covered, 0.05 * sums.size)
        return max(float(sums[-1] - lobes.sum()), 0.0) * sums.size / free

    def _advanced(self, spectra: Complex, f0_hz: Real) -> list[float]:
        """Return the fundamentals from how far each partial's phase advanced since last time."""
        before = self._before
        if before is None:
            before = spectra[0]
        earlier = np.concatenate([before[None], spectra[:-1]])
        self._before = spectra[-1]
        bins = np.rint(f0_hz[:, None] * (_ADVANCE_ORDERS / self._bin_hz)).astype(np.intp)
        is_there = bins < spectra.shape[1]
        rows, bins = np.arange(f0_hz.size)[:, None], np.minimum(bins, spectra.shape[1] - 1)
        cross = spectra[rows, bins] * earlier[rows, bins].conj()
        beyond = np.angle(cross) - self._twist * f0_hz[:, None] * _ADVANCE_ORDERS
        beyond -= _TURN * np.rint(beyond / _TURN)
        weights = np.abs(cross) * _ADVANCE_ORDERS * is_there
        change = (weights * beyond).sum(axis=1)
        change /= ((weights * _ADVANCE_ORDERS).sum(axis=1) + _TINY) * self._twist
        is_near = np.abs(change) < f0_hz * (_FARTHEST_CENTS / 1731.0)
        advanced: list[float] = (f0_hz + np.where(is_near, change, 0.0)).tolist()
        return advanced


def _smooth_number(least: int) -> int:
    """Return the smallest number of that size that a fast Fourier transform likes."""
    powers: list[int] = [factor << twos for factor in (1, 3, 5) for twos in range(1, 20)]
    return min(number for number in powers if number >= least)


def _summit(power: Real) -> float:
    """Return where the parabola through the logarithms of three values has its summit."""
    left, middle, right = (math.log(value + _TINY) for value in power.tolist())
    curve = left - 2.0 * middle + right
    return 0.5 * (left - right) / curve if curve < -1e-12 else 0.0


def _peaks_of(power: Real) -> Real:
    """Return the power of the peak within a bin of each bin; nothing where there is no peak."""
    highest = np.maximum(np.maximum(power[:, 1:-3], power[:, 2:-2]), power[:, 3:-1])
    is_peak = (highest >= power[:, :-4]) & (highest >= power[:, 4:])
    peaks = np.zeros_like(power)
    peaks[:, 2:-3] = (highest * is_peak)[:, :-1]
    return peaks


def _at(peaks: Real, places: Real) -> Real:
    """Return the peaks that lie nearest to places; nothing beyond the last bin."""
    return peaks[np.minimum(np.rint(places).astype(np.intp), peaks.size - 1)]
