"""Find what sounds in a stretch of frames without walking the whole score.

Rule    items are given in order of their start; an item sounds from its start up to, not with, its stop.
Units   frames from the start of the score.
"""

from __future__ import annotations

import numpy as np

from droner.sound.voice import Counts


class Spans:
    """The starts and stops of a part's items, ready to be asked for a stretch."""

    def __init__(self, starts: Counts, stops: Counts) -> None:
        self._starts = starts
        self._stops = stops
        self._latest_stop = stops if np.all(stops[1:] >= stops[:-1]) else np.maximum.accumulate(stops)

    def within(self, start: int, stop: int) -> list[int]:
        """The numbers of the items that sound somewhere in start..stop, in order."""
        first = int(self._latest_stop.searchsorted(start, "right"))
        last = int(self._starts.searchsorted(stop, "left"))
        (sounding,) = (self._stops[first:last] > start).nonzero()
        numbers: list[int] = (sounding + first).tolist()
        return numbers
