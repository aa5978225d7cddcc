"""Say what every voice can do: add itself to a stretch of sound, and say how high it can rise.

Rule    a voice is asked for any stretch, in any order, and always gives the same samples.
Units   frames from the start of the score; levels are amplitudes, full scale 1.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

Samples = npt.NDArray[np.float32]
Counts = npt.NDArray[np.int64]
Amounts = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Peaks:
    """Stretches of frames, and the level that the voice cannot pass inside each. Overlaps add up."""

    starts: Counts
    stops: Counts
    levels: Amounts

    def in_one_piece(self) -> Peaks:
        """The same, where a stretch goes on at the same level without a gap; they are in order and do not overlap."""
        is_new = np.ones(len(self.levels) + 1, dtype=np.bool_)
        is_new[1:-1] = (self.starts[1:] != self.stops[:-1]) | (self.levels[1:] != self.levels[:-1])
        first, last = is_new[:-1], is_new[1:]
        return Peaks(self.starts[first], self.stops[last], self.levels[first])


class Voice(Protocol):
    """One part of the score as sound."""

    def add_to(self, bus: Samples, start: int) -> None:
        """Add the voice's samples from frame `start` on to the bus."""

    def peaks(self) -> Peaks:
        """The bound on the voice's level over the whole score."""


def peaks_of(rows: Iterable[tuple[int, int, float]]) -> Peaks:
    """Peaks from (start, stop, level) rows."""
    table = np.fromiter(rows, [("start", np.int64), ("stop", np.int64), ("level", np.float64)])
    return Peaks(*(table[name].copy() for name in ("start", "stop", "level")))
