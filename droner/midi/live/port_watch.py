"""Look after the port between messages: a port that vanishes raises nothing.

Rule    twenty times a second, when the next message is far enough away; at last once a second all the same.
Units   nanoseconds.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

LOOK_EVERY_NS = 50_000_000
LOOK_WITHIN_NS = 5_000_000
"""A look was measured at 0.04 ms with JACK, opening a port again at 0.11 s. An instrument that is started again is away
for a tenth of a second or so."""
LOOK_AT_LAST_NS = 1_000_000_000


class PortState(Enum):
    """What a look at the port found: as before (there or not), just gone, or just back and open again."""

    SAME = "same"
    GONE = "gone"
    BACK = "back"


def always_there() -> PortState:
    """A port that need not be looked at."""
    return PortState.SAME


class PortWatch:
    """Decides when to look, and remembers what was found."""

    def __init__(self, look: Callable[[], PortState], now_ns: int) -> None:
        self.gone = False
        self._look = look
        self._looked_ns = now_ns
        self._is_back = False

    def is_back(self, now_ns: int, left_ns: int) -> bool:
        """Look, if it is time to. Whether the port has come back, and was not taken back yet."""
        since = now_ns - self._looked_ns
        if since >= LOOK_EVERY_NS and (left_ns >= LOOK_WITHIN_NS or since >= LOOK_AT_LAST_NS):
            self._looked_ns = now_ns
            self._found(self._look())
        return self._is_back

    def is_back_at_last(self) -> bool:
        """Look once more, whatever the time."""
        self._found(self._look())
        return self.take_back()

    def take_back(self) -> bool:
        """Whether the port has come back; it is then no longer news."""
        was, self._is_back = self._is_back, False
        return was

    def _found(self, state: PortState) -> None:
        if state is not PortState.SAME:
            self.gone = state is PortState.GONE
            self._is_back = state is PortState.BACK
