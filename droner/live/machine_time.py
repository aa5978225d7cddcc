"""Keep time on this machine. (Shore: touches the clock, the garbage collector and Python's threads.)

Rule    the clock never goes back and is never set. While the music plays the garbage collector rests, since a full
        collection was measured at tens of milliseconds, and what is there already is put out of its sight; other
        threads of Python must hand over after half a millisecond instead of five. All of it is put back afterwards.
Units   nanoseconds of a monotonic clock; seconds for Python's thread switch.
"""

from __future__ import annotations

import gc
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

SWITCH_S = 0.0005
NANOSECONDS = 1_000_000_000


class Clock(Protocol):
    """What a player needs of time."""

    def now_ns(self) -> int:
        """The moment, counted from any beginning."""

    def sleep_ns(self, span: int) -> None:
        """Do nothing for at least so long."""


class MachineClock:
    """The machine's own."""

    now_ns = staticmethod(time.perf_counter_ns)

    @staticmethod
    def sleep_ns(span: int) -> None:
        """Do nothing for at least so long."""
        time.sleep(span / NANOSECONDS)


@contextmanager
def undisturbed() -> Iterator[None]:
    """Keep Python from pausing inside the block."""
    collecting, switch_s = gc.isenabled(), sys.getswitchinterval()
    gc.collect()
    gc.freeze()
    gc.disable()
    sys.setswitchinterval(SWITCH_S)
    try:
        yield
    finally:
        sys.setswitchinterval(switch_s)
        gc.unfreeze()
        if collecting:
            gc.enable()
