"""Name what the music does about what is asked while it sounds, and what is told of it.

Rule    a `Deed` is what the music does; anything else that stands in the queue is the player's own word (a command),
        and the caller's `obey` says which deed answers it. `usual` pauses on a word named PAUSE and stops on the rest.
Units   places in quarter notes from the start of the piece (Beats); `silent_ms` in milliseconds.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from queue import SimpleQueue
from typing import Any, Protocol

from droner.sound.live.source import Source
from droner.units import Beats


class Act(Enum):
    """A plain deed. PAUSE pauses, or goes on when paused; STOP ends the piece."""

    GO_ON = "go on"
    PAUSE = "pause"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Seek:
    """Go to a place in the piece, and play on from there."""

    to: Beats


@dataclass(frozen=True, slots=True, eq=False)
class ChangeTo:
    """Begin another piece now, under the end of this one; what has no end takes the change up in step."""

    piece: Source


Deed = Act | Seek | ChangeTo
Asked = SimpleQueue[Any]
Obey = Callable[[Any], Deed]


def usual(command: Enum) -> Deed:
    """What the music does when the caller does not say otherwise."""
    return Act.PAUSE if command.name == Act.PAUSE.name else Act.STOP


@dataclass(frozen=True, slots=True)
class Place:
    """Where the music is: the beat from the start, and bar and beat as the page counts them (0, 0 off the page)."""

    moment: Beats
    bar: int
    beat: int
    paused: bool


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


class Noted(Protocol):
    """What signals ask for: the end (a number), or to sleep (Ctrl-Z)."""

    ending: int | None
    sleeping: bool

    def sleep_now(self) -> None:
        """Let the process be stopped as usual; comes back when it goes on."""


class NothingNoted:
    """Where nobody notes signals."""

    ending: int | None = None
    sleeping = False

    def sleep_now(self) -> None:
        """Never asked for."""
