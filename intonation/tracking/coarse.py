"""Where the fundamental roughly is, every hop: spectra, harmonic sums, and phase advance."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

WINDOW_S = 0.048
"""Four periods of a contrabass recorder's lowest note: its partials still stand apart."""

_ORDERS = np.arange(1, 9)
_DIVISORS = np.arange(1, 7)
_WEAKEST_FUNDAMENTAL = 10.0**-1.8
_WEAKEST_COMPANION = 10.0**-3.0
_BINS_AROUND = np.arange(-2, 3)
_ADVANCE_ORDERS = 5
_FARTHEST_CENTS = 40.0
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
    masked
        Whether this may be a remainder of the reference that sounds in the room.
    """

    index: int
    f0_hz: float
    advance_hz: float
    harmonic_db: float
    level_db: float
    harmonic_to_noise_db: float
    masked: bool = False


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
        self._size = 1 << math.ceil(math.log2(2.5 * count))
        self.lag_hops = math.ceil(count / 2 / hop_samples)
        self._held = np.zeros(count // 2 + self.lag_hops * hop_samples)
        self._next_index = -self.lag_hops
        self._before: Complex | None = None
        bin_hz = rate_hz / self._size
        self._bin_hz = bin_hz
        self._lowest_hz = lowest_hz
        self._floor_bin = round(0.75 * lowest_hz / bin_hz)
        self._band = slice(round(0.95 * lowest_hz / bin_hz), self._top_bin(highest_hz))
        self._lobe_bins = 2.0 * self._size / count
        self._power_scale = 2.0 / (self._size * np.sum(self._window**2))
        self._peak_scale = 2.0 / np.sum(self._window) ** 2
        self._twist = 2.0 * math.pi * hop_samples / rate_hz

    def _top_bin(self, highest_hz: float) -> int:
        return min(round(1.05 * highest_hz / self._bin_hz), self._size // 2 - 8)

    def feed(self, step: Real) -> list[CoarseFrame]:
        """Take one step of samples and return its frames."""
        held = np.concatenate([self._held, step])
        views = np.lib.stride_tricks.sliding_window_view(held, self._window.size)
        windows = views[:: self._hop][: step.size // self._hop]
        self._held = held[step.size :]
        spectra = np.fft.rfft(windows * self._window, self._size)
        return [self._frame(spectrum) for spectrum in spectra]

    def _frame(self, spectrum: Complex) -> CoarseFrame:
        power = spectrum.real**2 + spectrum.imag**2
        f0_hz, peaks = self._fundamental(power)
        harmonic = float(np.sum(peaks)) * self._peak_scale
        sums = np.cumsum(power[self._floor_bin :])
        total = float(sums[-1]) * self._power_scale
        noise = self._noise(sums, f0_hz) * self._power_scale
        frame = CoarseFrame(
            self._next_index,
            f0_hz,
            self._advanced(spectrum, f0_hz),
            10.0 * math.log10(harmonic + _TINY),
            10.0 * math.log10(total + _TINY),
            10.0 * math.log10((harmonic + _TINY) / (noise + _TINY)),
        )
        self._before = spectrum
        self._next_index += 1
        return frame

    def _fundamental(self, power: Real) -> tuple[float, Real]:
        """Return the lowest frequency of which the strongest peak is a partial, and all its peaks."""
        strongest = self._band.start + int(np.argmax(power[self._band]))
        left, middle, right = np.log(power[strongest - 1 : strongest + 2] + _TINY)
        curve = left - 2.0 * middle + right
        place = strongest + (0.5 * (left - right) / curve if curve < -1e-12 else 0.0)
        wanted = place * _ORDERS / _DIVISORS[:, None]
        bins = np.rint(wanted).astype(np.intp)[:, :, None] + _BINS_AROUND
        inside = bins[:, :, 2] < power.size - 3
        peaks = np.where(inside, np.max(power[np.minimum(bins, power.size - 1)], axis=2), 0.0)
        for divisor in _DIVISORS[:0:-1]:
            candidate_hz = place / divisor * self._bin_hz
            if candidate_hz >= self._lowest_hz and _is_fundamental(
                peaks[divisor - 1], int(divisor)
            ):
                return candidate_hz, peaks[divisor - 1]
        return place * self._bin_hz, peaks[0]

    def _noise(self, sums: Real, f0_hz: float) -> float:
        """Return the power between the partials, scaled up to the whole band."""
        spacing = f0_hz / self._bin_hz
        reach = min(self._lobe_bins, 0.35 * spacing)
        centres = np.arange(1, int((sums.size + self._floor_bin - 1) / spacing) + 1) * spacing
        ends = np.rint(centres + reach).astype(np.intp) - self._floor_bin
        begins = np.rint(centres - reach).astype(np.intp) - self._floor_bin - 1
        last = sums.size - 1
        lobes = sums[np.clip(ends, 0, last)] - sums[np.clip(begins, 0, last)]
        covered = (2.0 * reach + 1.0) * centres.size
        free = max(sums.size - covered, 0.05 * sums.size)
        return max(float(sums[-1] - np.sum(lobes)), 0.0) * sums.size / free

    def _advanced(self, spectrum: Complex, f0_hz: float) -> float:
        """Return the fundamental from how far each partial's phase advanced since the last frame."""
        if self._before is None:
            return f0_hz
        orders = np.arange(
            1, min(_ADVANCE_ORDERS, int((self._size // 2 - 2) * self._bin_hz / f0_hz)) + 1
        )
        bins = np.rint(orders * f0_hz / self._bin_hz).astype(np.intp)
        cross = spectrum[bins] * self._before[bins].conj()
        beyond = np.angle(cross * np.exp(-1j * self._twist * f0_hz * orders)) / self._twist
        weights = np.abs(cross)
        change = float(np.sum(weights * orders * beyond) / (np.sum(weights * orders**2) + _TINY))
        nearest = f0_hz * _FARTHEST_CENTS / 1731.0
        return f0_hz + change if abs(change) < nearest else f0_hz


def _is_fundamental(peaks: Real, divisor: int) -> bool:
    """Whether these peaks show a fundamental whose partial number ``divisor`` is the strongest.

    Half-integer components of a recorder are weak, its fundamental never is: so the fundamental has
    to be well there, and a second partial that the strongest peak alone would not explain.
    """
    strongest = peaks[divisor - 1]
    own = peaks[_ORDERS % divisor != 0]
    return bool(
        peaks[0] > _WEAKEST_FUNDAMENTAL * strongest
        and np.partition(own, -2)[-2] > _WEAKEST_COMPANION * strongest
    )
