"""Where the fundamental roughly is, every hop: spectra, harmonic sums, and phase advance."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from intonation.tracking.constant_sound import ConstantSound

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

WINDOW_S = 0.048
"""Four periods of a contrabass recorder's lowest note: its partials still stand apart."""

_ORDERS = np.arange(1.0, 9.0)
_DIVISORS = np.arange(1, 7)
_OWN_ORDERS = {
    divisor: np.flatnonzero(np.gcd(np.arange(1, _ORDERS.size + 1), divisor) == 1)
    for divisor in _DIVISORS.tolist()
}
"""Places of the partials that no fundamental between this one and the strongest peak explains."""
_STRONG, _KEPT, _WEAK = 10.0**-1.4, 10.0**-1.8, 10.0**-2.6
_SAME_PART = 0.02
_BINS_AROUND = np.arange(-2, 3)
_ADVANCE_ORDERS = np.arange(1, 6)
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
        self._before_hz = 0.0
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

    def feed(self, step: Real) -> list[CoarseFrame]:
        """Take one step of samples and return its frames."""
        held = np.concatenate([self._held, step])
        begins = range(0, step.size, self._hop)
        windows = np.stack([held[begin : begin + self._window.size] for begin in begins])
        self._held = held[step.size :]
        spectra = np.fft.rfft(windows * self._window, self._size)
        return [self._frame(spectrum) for spectrum in spectra]

    def _frame(self, spectrum: Complex) -> CoarseFrame:
        power = spectrum.real**2 + spectrum.imag**2
        rest = self._constant.without(power)
        f0_hz, peaks = self._fundamental(power, rest)
        harmonic = float(peaks.sum()) * self._peak_scale
        total = float(power[self._floor_bin :].sum()) * self._power_scale
        sums = rest[self._floor_bin :].cumsum()
        noise = max(total - harmonic, _LEAST_CROWDED_NOISE * total)
        if f0_hz > self._bin_hz * _CROWDED * self._lobe_bins:
            noise = self._noise(sums, f0_hz) * self._power_scale
        place = round(f0_hz / self._bin_hz)
        frame = CoarseFrame(
            self._next_index,
            f0_hz,
            self._advanced(spectrum, f0_hz),
            10.0 * math.log10(harmonic + _TINY),
            10.0 * math.log10(total + _TINY),
            10.0 * math.log10((harmonic + _TINY) / (noise + _TINY)),
            float(peaks @ _ORDERS) / (float(peaks.sum()) + _TINY),
            constant=self._constant.explains(float(power[place]), place=place),
        )
        is_quiet = frame.harmonic_to_noise_db < _SOUNDING_HNR_DB or frame.constant
        if is_quiet and self._next_index >= self._whole_from:
            self._constant.learn(power)
        self._before, self._before_hz = spectrum, f0_hz
        self._next_index += 1
        return frame

    def _fundamental(self, power: Real, rest: Real) -> tuple[float, Real]:
        """Return the lowest frequency of which the strongest peak is a partial, and its peaks.

        Of what else there is only the ``rest`` counts that is not there all the time.

        Of the fundamental and the partials that no higher fundamental would explain as well, one
        has to be strong and the other there: half-integer components of a recorder are weak. A
        room that all but swallows a fundamental does not raise the octave in the middle of a note.
        """
        inner = power[self._band]
        below, above = (power[self._band.start + by : self._band.stop + by] for by in (-1, 1))
        is_peak = (inner >= below) & (inner > above)
        strongest = self._band.start + int((inner * is_peak).argmax())
        place = strongest + _summit(power[strongest - 1 : strongest + 2])
        firsts = _peaks_at(rest, np.asarray(place / _DIVISORS, np.float64))
        weak = _WEAK * power[strongest]
        for divisor in _DIVISORS[:0:-1].tolist():
            if firsts[divisor - 1] < weak or place * self._bin_hz < divisor * self._lowest_hz:
                continue
            peaks = _peaks_at(rest, place / divisor * _ORDERS)
            companions = peaks[_OWN_ORDERS[divisor]][1:]
            found = peaks[0], companions.max()
            f0_hz = place / divisor * self._bin_hz
            strong = _KEPT if self._was_at(f0_hz) else _STRONG
            if min(found) > weak and max(found) > strong * power[strongest]:
                return f0_hz, peaks
        return place * self._bin_hz, _peaks_at(power, place * _ORDERS)

    def _was_at(self, f0_hz: float) -> bool:
        return abs(f0_hz - self._before_hz) < _SAME_PART * f0_hz

    def _noise(self, sums: Real, f0_hz: float) -> float:
        """Return the power between the partials, scaled up to the whole band."""
        spacing = f0_hz / self._bin_hz
        reach = min(self._lobe_bins, 0.35 * spacing)
        last = sums.size - 1
        centres = np.arange(1, int((last + self._floor_bin) / spacing) + 1) * spacing
        begins = np.rint(centres - (reach + 1.0 + self._floor_bin)).astype(np.intp)
        ends = np.rint(centres + (reach - self._floor_bin)).astype(np.intp)
        lobes = sums[np.minimum(ends, last)] - sums[np.maximum(begins, 0)]
        covered = (2.0 * reach + 1.0) * centres.size
        free = max(sums.size - covered, 0.05 * sums.size)
        return max(float(sums[-1] - lobes.sum()), 0.0) * sums.size / free

    def _advanced(self, spectrum: Complex, f0_hz: float) -> float:
        """Return the fundamental from how far each partial's phase advanced since last time."""
        if self._before is None:
            return f0_hz
        bins = np.rint(_ADVANCE_ORDERS * (f0_hz / self._bin_hz)).astype(np.intp)
        bins = bins[bins < spectrum.size]
        orders = _ADVANCE_ORDERS[: bins.size]
        cross = spectrum[bins] * self._before[bins].conj()
        expected = np.exp(orders * complex(0.0, -self._twist * f0_hz))
        beyond = np.angle(cross * expected)
        weights = np.abs(cross) * orders
        change = float(weights @ beyond / (weights @ orders + _TINY)) / self._twist
        nearest = f0_hz * _FARTHEST_CENTS / 1731.0
        return f0_hz + change if abs(change) < nearest else f0_hz


def _smooth_number(least: int) -> int:
    """Return the smallest number of that size that a fast Fourier transform likes."""
    powers: list[int] = [factor << twos for factor in (1, 3, 5) for twos in range(1, 20)]
    return min(number for number in powers if number >= least)


def _summit(power: Real) -> float:
    """Return where the parabola through the logarithms of three values has its summit."""
    left, middle, right = (math.log(value + _TINY) for value in power.tolist())
    curve = left - 2.0 * middle + right
    return 0.5 * (left - right) / curve if curve < -1e-12 else 0.0


def _peaks_at(power: Real, places: Real) -> Real:
    """Return the power of the peak within a bin of each place; nothing where there is no peak."""
    nearest = np.rint(places).astype(np.intp)
    around = power[np.minimum(nearest[:, None] + _BINS_AROUND, power.size - 1)]
    peaks = around[:, 1:-1].max(axis=1)
    is_peak = (peaks >= around[:, 0]) & (peaks >= around[:, -1])
    return np.asarray(peaks * (is_peak & (nearest < power.size - 3)))
