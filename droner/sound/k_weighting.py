"""Weigh a frequency as the measure of loudness does.

Rule    the weighting is two filters in a row, a shelf for the head and a high-pass. We never filter: a tone's weight is
        read off at its hertz, and that of a short sound from its spectrum.
Units   hertz; weights are factors of power.
Source  ITU-R BS.1770-4 and -5, Annex 1, tables 1 and 2: the coefficients at 48 kHz.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from droner.sound.voice import Amounts

FILTERS_RATE_HZ = 48_000
SHELF = ((1.53512485958697, -2.69169618940638, 1.19839281085285), (1.0, -1.69065929318241, 0.73248077421585))
HIGH_PASS = ((1.0, -2.0, 1.0), (1.0, -1.99004745483398, 0.99007225036621))
"""Each: the factors above and below the line, of 0, 1 and 2 samples ago."""


def power_weights(hz: Amounts) -> Amounts:
    """By how much the power at each hertz counts. What lies beyond the filters counts as the highest they know."""
    ago = np.exp(-2j * np.pi * np.minimum(hz, FILTERS_RATE_HZ / 2) / FILTERS_RATE_HZ)
    weights = np.ones(len(ago))
    for above, below in (SHELF, HIGH_PASS):
        response = (above[0] + above[1] * ago + above[2] * ago**2) / (below[0] + below[1] * ago + below[2] * ago**2)
        weights = weights * np.abs(response) ** 2
    return weights


@lru_cache(maxsize=512)
def partial_weights(hz: float, count: int) -> Amounts:
    """The weights of the first partials of a tone."""
    weights = power_weights(hz * np.arange(1, count + 1, dtype=np.float64))
    weights.flags.writeable = False
    return weights


def weighted_energy(sound: Amounts, rate_hz: int) -> float:
    """The sum of the squares of a short sound's samples, weighted."""
    spectrum = np.fft.rfft(sound, 4 * len(sound))
    power = np.abs(spectrum) ** 2 * power_weights(
        np.asarray(np.fft.rfftfreq(4 * len(sound), 1 / rate_hz), dtype=np.float64)
    )
    both_sides = 2 * power.sum() - power[0] - power[-1]
    return float(both_sides / (4 * len(sound)))
