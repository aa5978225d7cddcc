"""Say how a piece ended on a loudspeaker, and how whole it was.

Units   places in quarter notes from the start of the piece (Beats); `silent_ms` in milliseconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from droner.units import Beats


@dataclass(frozen=True, slots=True)
class UnderRuns:
    """How often the music broke.

    `late`: samples were not made in time, which left so much silence. `lost`: moments that the machine's own sound
    system says it lost.
    """

    late: int = 0
    silent_ms: float = 0.0
    lost: int = 0


@dataclass(frozen=True, slots=True)
class Ended:
    """How a piece ended: played out (`finished`), or by a command, a deed or a signal; where, and how whole."""

    finished: bool
    command: Enum | None
    at: Beats
    under_runs: UnderRuns
