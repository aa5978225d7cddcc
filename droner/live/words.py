"""Name what the music does about what is asked while it sounds, and where it is.

Rule    a `Deed` is what the music does; anything else that stands in the queue is the player's own word (a command),
        and the caller's `obey` says which deed answers it. `usual` pauses on a word named PAUSE and stops on the rest.
Units   places in quarter notes from the start of the piece (Beats).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from queue import SimpleQueue
from typing import Any, Generic, TypeVar

from droner.units import Beats

Played = TypeVar("Played")


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
class ChangeTo(Generic[Played]):
    """Begin another piece now, without a gap; what has no end takes the change up in step."""

    piece: Played


Deed = Act | Seek | ChangeTo[Any]
Asked = SimpleQueue[Any]
"""Words of the player, and deeds."""
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
