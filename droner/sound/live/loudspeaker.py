"""Say what a player needs of a loudspeaker, and know which sample is heard.

Rule    a sample is heard as long after it was asked for as the loudspeaker says (its latency). Between two blocks the
        clock goes on.
Units   frames of the ring; seconds of a monotonic clock.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Protocol

from droner.sound.live.ring import Ring
from droner.sound.voice import Samples


class Loudspeaker(Protocol):
    """Asks for samples, block by block. `lost` counts the moments that its system lost."""

    channels: int
    rate_hz: int
    latency_s: float
    lost: int

    @property
    def failure(self) -> str:
        """Why nothing sounds any more; "" while all is well."""

    def open(self, take: Callable[[Samples], None]) -> None:
        """Begin to ask."""

    def open_again(self) -> None:
        """The same after a sleep."""

    def close(self) -> None:
        """Ask for nothing any more."""


class Heard:
    """Hands the samples of a ring to a loudspeaker, and remembers when."""

    def __init__(self, ring: Ring, speaker: Loudspeaker) -> None:
        self._ring, self._speaker = ring, speaker
        self._last = (0, 0.0)

    def take(self, out: Samples) -> None:
        """Fill a block: the loudspeaker's call."""
        before = self._ring.taken
        self._ring.take(out)
        if self._ring.taken > before:
            self._last = (before, time.monotonic())

    @property
    def frame(self) -> int:
        """The frame that is heard now."""
        before, when = self._last
        since_s = time.monotonic() - when - self._speaker.latency_s
        return max(min(before + int(since_s * self._speaker.rate_hz), self._ring.taken), 0)

    @property
    def is_silent(self) -> bool:
        """Whether all there was has been heard."""
        return self._ring.is_over and self.frame >= self._ring.taken
