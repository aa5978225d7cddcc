"""Look at what a loudspeaker was given, knowing nothing of how it was made.

Rule    a line is followed by demodulation: the wave times a turning pointer, smoothed; how its phase moves tells the
        hertz, its length the level. A Hann window of so many samples keeps lines out that are 4 / its length away.
Source  scipy.signal: windows and convolution.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
from scipy.signal import fftconvolve
from scipy.signal.windows import hann

Wave = npt.NDArray[np.float64]
RATE_HZ = 48_000
WINDOW = RATE_HZ // 5
LEVEL_WINDOW = RATE_HZ // 25


def pointer(wave: Wave, hz: float, first: int = 0) -> Any:
    """The line at `hz` as it goes on, phase and amplitude; `first` is the frame of the first sample."""
    frames = first + np.arange(len(wave))
    window = hann(WINDOW, sym=False)
    return fftconvolve(wave * np.exp(-2j * np.pi * hz * frames / RATE_HZ), 2 * window / window.sum(), mode="valid")


def hertz_near(wave: Wave, hz: float) -> float:
    """The hertz of the line near `hz`, by the slope of its phase."""
    phase = np.unwrap(np.angle(pointer(wave, hz)))
    slope = np.polyfit(np.arange(len(phase)), phase, 1)[0]
    return float(hz + slope * RATE_HZ / (2 * np.pi))


def levels(wave: Wave) -> Wave:
    """Effective level over a sliding window of 40 ms."""
    made: Wave = np.sqrt(fftconvolve(wave * wave, np.full(LEVEL_WINDOW, 1 / LEVEL_WINDOW), mode="valid").clip(0))
    return made


def greatest_step(wave: Wave) -> float:
    """From one sample to the next."""
    return float(np.max(np.abs(np.diff(wave))))


def strokes(wave: Wave, above: float, apart_s: float = 0.05) -> list[int]:
    """The frames on which clicks begin: above a level, after so long below it."""
    sounding = np.flatnonzero(np.abs(wave) > above)
    gaps = np.flatnonzero(np.diff(sounding) > apart_s * RATE_HZ)
    return [int(sounding[0]), *(int(frame) for frame in sounding[gaps + 1])]
