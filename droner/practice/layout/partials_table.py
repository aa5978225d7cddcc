"""Where the partials of a fingering lie on the staff.

Rule    the nearest written note of each partial; how far the partial itself lies from it is the tuning's affair.
Source  harmonic series n x f.
"""

from __future__ import annotations

from droner.theory.pitch import Interval

PARTIALS: tuple[tuple[int, Interval], ...] = (
    (1, Interval(0, 0)),
    (2, Interval(7, 12)),
    (3, Interval(11, 19)),
    (4, Interval(14, 24)),
    (5, Interval(16, 28)),
    (6, Interval(18, 31)),
    (7, Interval(20, 34)),
    (8, Interval(21, 36)),
    (9, Interval(22, 38)),
    (10, Interval(23, 40)),
)
