"""Move along the traditional metronome: the nearest number, and so many clicks faster or slower.

Rule    nearest by ratio, as tempo is felt; between two equally near, the slower. Steps stop at the ends.
Units   beats a minute.
Source  the numbers: `metronome_table`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from fractions import Fraction

from droner.theory.metronome_table import TRADITIONAL_BPM

SLOWEST_BPM = TRADITIONAL_BPM[0]
FASTEST_BPM = TRADITIONAL_BPM[-1]


def nearest_bpm(bpm: Fraction | float) -> int:
    """The traditional number nearest to a tempo. ValueError unless the tempo is above 0."""
    if bpm <= 0:
        raise ValueError(f"a tempo is more than 0 beats a minute, not {float(bpm):g}")
    return min(TRADITIONAL_BPM, key=lambda number: (max(number / bpm, bpm / number), number))


def stepped_bpm(bpm: Fraction | float, steps: int) -> int:
    """The number so many steps up (+) or down (-): from between two numbers the first step reaches the next.

    No step at all gives the nearest number.
    """
    if steps == 0:
        return nearest_bpm(bpm)
    below = bisect_right(TRADITIONAL_BPM, bpm) - 1 if steps > 0 else bisect_left(TRADITIONAL_BPM, bpm)
    place = below + steps
    return TRADITIONAL_BPM[min(max(place, 0), len(TRADITIONAL_BPM) - 1)]


def numbers_between(low_bpm: Fraction | float, high_bpm: Fraction | float) -> tuple[int, ...]:
    """The traditional numbers from one tempo to another, both included where they are numbers."""
    return TRADITIONAL_BPM[bisect_left(TRADITIONAL_BPM, low_bpm) : bisect_right(TRADITIONAL_BPM, high_bpm)]
