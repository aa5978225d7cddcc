"""Measure the distance of two pitches in cents, and name the commas.

Rule    1200 cents are an octave; cents add where ratios multiply.
Units   cents; hz in hertz; ratios are upper over lower.
Source  commas: by arithmetic. Syntonic 81/80, Pythagorean (3/2)^12 / 2^7.
"""

from __future__ import annotations

from fractions import Fraction
from math import exp2, log2

OCTAVE_CENTS = 1200
SYNTONIC_COMMA = Fraction(81, 80)
"""By how much four pure fifths miss a pure major third: 21.506 cents."""
PYTHAGOREAN_COMMA = Fraction(3**12, 2**19)
"""By how much twelve pure fifths miss seven octaves: 23.460 cents."""


def cents_of(ratio: Fraction | float) -> float:
    """The size of a ratio of frequencies."""
    return OCTAVE_CENTS * log2(ratio)


def cents_between(low_hz: float, high_hz: float) -> float:
    """How far the second pitch lies above the first; negative below."""
    return OCTAVE_CENTS * log2(high_hz / low_hz)


def factor_of(cents: float) -> float:
    """The ratio of frequencies that so many cents make."""
    return exp2(cents / OCTAVE_CENTS)
