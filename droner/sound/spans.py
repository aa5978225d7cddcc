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
        self._latest_stop = np.maximum.accumulate(stops) if len(stops) else stops

    def within(self, start: int, stop: int) -> list[int]:
        """The numbers of the items that sound somewhere in start..stop, in order."""
        first = int(np.searchsorted(self._latest_stop, start, side="right"))
        last = int(np.searchsorted(self._starts, stop, side="left"))
        sounding = np.flatnonzero(self._stops[first:last] > start) + first
        return [int(number) for number in sounding]
