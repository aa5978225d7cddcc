"""Wait for a moment, to the tenth of a millisecond, and say how well it was met.

Rule    sleep in naps, for a machine wakes late; then watch the clock for the last millisecond and a half. Between naps
        somebody may call; the wait is then given up. Every message is measured against its own moment.
Units   nanoseconds; lateness is told in milliseconds.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from droner.live.machine_time import Clock

WATCH_NS = 1_500_000
"""The last part of a wait: sleeps were measured to end 0.1 ms late on a free machine, 1 ms on a busy one."""
NAP_NS = 10_000_000
LATE_NS = 1_000_000
"""What counts as late: a millisecond, the time of one message on a MIDI cable."""


@dataclass(frozen=True, slots=True)
class Timing:
    """How well the moments were met: messages sent, those over a millisecond late, the worst."""

    sent: int = 0
    late: int = 0
    worst_ms: float = 0.0


@dataclass(slots=True)
class Lateness:
    """Counts while the music plays."""

    sent: int = 0
    late: int = 0
    worst_ns: int = 0

    def count(self, late_ns: Sequence[int]) -> None:
        """These messages went out so late."""
        self.sent += len(late_ns)
        self.late += sum(each > LATE_NS for each in late_ns)
        self.worst_ns = max(self.worst_ns, *late_ns, 0)

    @property
    def timing(self) -> Timing:
        """What was counted so far."""
        return Timing(self.sent, self.late, self.worst_ns / 1_000_000)


def near(clock: Clock, due_ns: int | None, called: Callable[[int], bool]) -> bool:
    """Wait until the moment is near; False if somebody called. None waits for a call alone.

    `called` is told how much time is left. What is left then is for `watched`, with all made ready before.
    """
    while True:
        left = NAP_NS * 2 if due_ns is None else due_ns - clock.now_ns()
        if called(left):
            return False
        if due_ns is not None and left <= WATCH_NS:
            return True
        clock.sleep_ns(min(left - WATCH_NS, NAP_NS))


def watched(clock: Clock, due_ns: int) -> int:
    """Watch the clock until the moment is there; what it then shows."""
    now_ns = clock.now_ns
    while (now := now_ns()) < due_ns:
        pass
    return now
