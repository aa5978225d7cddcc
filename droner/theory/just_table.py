"""List the ratios of just intonation, by place on the line of fifths above the tonic.

Rule    one row a spelled interval from the diminished second to the augmented seventh. Four fifths up the
        line make one pure major third, 5/4; a place below the tonic's has the complement of the same place
        above. Beyond the rows the same rule goes on. Only the minor seventh departs from it (the rule gives
        16/9): 9/5 is a minor third above the fifth.
        A player may choose another minor third, major second or minor seventh; no other row moves with it.
Units   ratios of frequencies, upper over lower, of the interval with 0 to 6 staff steps.
Source  five-limit ratios, by arithmetic. 6/5 and 5/4 as what players aim at: Leukel & Stoffer 2004, Psychology
        of Music 32 (5/4 in every context, 6/5 inside chords). 7/6, 7/4, 19/16: harmonics 7 and 19.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

RATIOS: Mapping[int, Fraction] = MappingProxyType(
    {
        -12: Fraction(128, 125),  # diminished second
        -11: Fraction(192, 125),  # diminished sixth
        -10: Fraction(256, 225),  # diminished third
        -9: Fraction(128, 75),  # diminished seventh
        -8: Fraction(32, 25),  # diminished fourth
        -7: Fraction(24, 25),  # diminished unison: downwards
        -6: Fraction(64, 45),  # diminished fifth
        -5: Fraction(16, 15),  # minor second
        -4: Fraction(8, 5),  # minor sixth
        -3: Fraction(6, 5),  # minor third
        -2: Fraction(9, 5),  # minor seventh
        -1: Fraction(4, 3),  # fourth
        0: Fraction(1),  # unison
        1: Fraction(3, 2),  # fifth
        2: Fraction(9, 8),  # major second
        3: Fraction(5, 3),  # major sixth
        4: Fraction(5, 4),  # major third
        5: Fraction(15, 8),  # major seventh
        6: Fraction(45, 32),  # augmented fourth
        7: Fraction(25, 24),  # augmented unison
        8: Fraction(25, 16),  # augmented fifth
        9: Fraction(75, 64),  # augmented second
        10: Fraction(225, 128),  # augmented sixth
        11: Fraction(125, 96),  # augmented third
        12: Fraction(125, 64),  # augmented seventh
    }
)
"""Ratio by place on the line of fifths above the tonic."""

EQUAL = "equal"
MINOR_THIRDS = ("6/5", "19/16", EQUAL, "32/27", "7/6")
"""Minor thirds to choose from, the usual one first."""
SECONDS = ("9/8", "10/9")
"""Major seconds to choose from, the usual one first."""
SEVENTHS = ("9/5", "16/9", "7/4")
"""Minor sevenths to choose from, the usual one first."""
