"""Hear beats in samples as an ear would: one band, its envelope, and how often that comes and goes.

Rule    nothing of how the sound was made is known here but where the partials should lie. The band is shifted to zero
        and everything else filtered away; what is left is the analytic signal of the band, its size the envelope.
Units   hertz; seconds; decibels.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from scipy.signal import firwin, upfirdn
from scipy.signal.windows import blackmanharris

from tests.sound.measure import Wave

ENVELOPE_HZ = 400
"""Samples a second of an envelope: many more than any beat that is counted."""
FILTER_SECONDS = 0.35
"""So sharp that a neighbouring partial 35 Hz away is gone (Kaiser window: 80 dB)."""
KAISER = 8.0


def envelope(wave: Wave, centre_hz: float, half_width_hz: float, rate_hz: int) -> Wave:
    """The envelope of the band around a frequency, without what the filter's own start and end colour."""
    turns = np.arange(len(wave)) * (centre_hz / rate_hz)
    shifted = wave * np.exp(-2j * np.pi * (turns - np.floor(turns)))
    taps = firwin(int(FILTER_SECONDS * rate_hz) | 1, half_width_hz, window=("kaiser", KAISER), fs=rate_hz)
    down = rate_hz // ENVELOPE_HZ
    band = upfirdn(taps, shifted, down=down)
    edge = len(taps) // down + 1
    return np.asarray(np.abs(band[edge:-edge]))


def rate_of(envelope_: Wave) -> float:
    """How often a second an envelope comes back, from its first upward crossing of the middle to its last."""
    power = envelope_**2
    above = power - (power.max() + power.min()) / 2
    before = np.flatnonzero((above[:-1] < 0) & (above[1:] >= 0))
    assert len(before) > 1, "the envelope does not come and go"
    moments = before + above[before] / (above[before] - above[before + 1])
    return float((len(moments) - 1) * ENVELOPE_HZ / (moments[-1] - moments[0]))


def depth_db(envelope_: Wave) -> float:
    """From the softest to the loudest."""
    return float(20 * np.log10(envelope_.max() / envelope_.min()))


def levels_db(wave: Wave, lines_hz: npt.ArrayLike, rate_hz: int, window_seconds: float, hop_seconds: float) -> Wave:
    """The level of the band around each line, window by window: shape (windows, lines).

    A Blackman-Harris window keeps out what lies four of its bins away by 92 dB (Harris 1978).
    """
    long, hop = round(window_seconds * rate_hz), round(hop_seconds * rate_hz)
    window = blackmanharris(long, sym=False)
    angles = 2 * np.pi * np.outer(np.arange(long), np.asarray(lines_hz) / rate_hz)
    pieces = np.lib.stride_tricks.sliding_window_view(wave, long)[::hop] * window
    sizes = np.hypot(pieces @ np.cos(angles), pieces @ np.sin(angles))
    return np.asarray(20 * np.log10(2 * sizes / window.sum()))
