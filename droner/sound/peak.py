"""Find a level that tones held together never pass.

Rule    tones in whole ratios repeat after a common period, and their peak is read off one such period. Others come
        together in every possible way sooner or later: for them the single peaks add up.
Units   levels are amplitudes, full scale 1.
Source  the highest of M points on one period of a wave of N partials misses its peak at most by cos(pi N / M): the
        Ehlich-Zeller inequality for trigonometric polynomials.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import cos, lcm, pi

import numpy as np

from droner.sound.additive import Sounding

LARGEST_PART = 64
"""Ratios of larger numbers are taken for none: no just scale of ours has them."""
EXACT = 1e-9
"""A ratio is a whole one if it is so near it that a day would not show the difference."""
MOST_PARTIALS = 4096
POINTS_A_PARTIAL = 16


@lru_cache(maxsize=1024)
def peak(tones: tuple[Sounding, ...]) -> float:
    """A level that the sum of the tones never passes."""
    sounding = tuple(tone for tone in tones if tone.partials)
    if not sounding:
        return 0.0
    numbers = _in_whole_numbers(tuple(tone.hz for tone in sounding))
    highest = max(number * len(tone.partials) for number, tone in zip(numbers, sounding, strict=True)) if numbers else 0
    if not 0 < highest <= MOST_PARTIALS:
        return sum(peak((tone,)) for tone in sounding)
    return _period_peak(numbers, sounding, highest)


def _period_peak(numbers: tuple[int, ...], tones: tuple[Sounding, ...], highest: int) -> float:
    """The peak of one common period; `numbers` says which partial of it each tone is."""
    points = 1 << (POINTS_A_PARTIAL * highest - 1).bit_length()
    lines = np.zeros(points // 2 + 1, dtype=np.complex128)
    for number, tone in zip(numbers, tones, strict=True):
        at = number * np.arange(1, len(tone.partials) + 1)
        lines[at] += np.array(tone.partials) * np.exp(2j * np.pi * np.array(tone.turns))
    wave = np.fft.irfft(-0.5j * points * lines, points)
    return float(np.max(np.abs(wave)) / cos(pi * highest / points))


def _in_whole_numbers(hertz: tuple[float, ...]) -> tuple[int, ...]:
    """The tones as partials of one low tone; nothing where they are in no whole ratios."""
    ratios = [Fraction(hz / hertz[0]).limit_denominator(LARGEST_PART) for hz in hertz]
    if any(abs(float(ratio) * hertz[0] / hz - 1) > EXACT for ratio, hz in zip(ratios, hertz, strict=True)):
        return ()
    parts = lcm(*(ratio.denominator for ratio in ratios))
    return tuple(int(ratio * parts) for ratio in ratios)
